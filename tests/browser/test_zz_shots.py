import os,sys,time,json
import pytest
from pathlib import Path
BOOKS=Path("workbooks").resolve()
ISSUES="""() => {const w=innerWidth; const out=[];
 const vis=e=>{const r=e.getBoundingClientRect();return r.width>2&&r.height>2&&getComputedStyle(e).visibility!='hidden'};
 for(const e of document.querySelectorAll('.jp-Notebook *')){ if(!vis(e)) continue; const r=e.getBoundingClientRect(), c=getComputedStyle(e);
  if(e.closest('svg')&&e.tagName!='svg') continue;
  if(r.right>w+1) out.push('RIGHT '+e.tagName+'.'+(e.className.baseVal??e.className)+' '+Math.round(r.right)+' '+(e.textContent||'').trim().slice(0,40));
  if(e.scrollWidth>e.clientWidth+1 && ['auto','scroll','hidden'].includes(c.overflowX) && e.clientWidth>0) out.push('SCROLLX '+e.tagName+'.'+(e.className.baseVal??e.className)+' '+e.scrollWidth+'>'+e.clientWidth+' '+(e.textContent||'').trim().slice(0,40));
 } return [...new Set(out)].slice(0,30)}"""
def test_shots(browser,address):
    p=browser.new_page(); 
    for spec in os.environ['SHOTS'].split(','):
        n,size=spec.split('@'); w,h=map(int,size.split('x'))
        name=next(f.stem for f in BOOKS.rglob(n+'*.ipynb'))
        t=time.time(); p.set_viewport_size({'width':w,'height':h})
        p.goto(address.replace('start-here',name) if n!='outdoor' else address.replace('start-here','instructor/'+name))
        try:
            p.wait_for_selector(".jp-OutputArea-output .hot-water-runs button:visible",timeout=240000)
            p.wait_for_selector(".jp-Notebook-ExecutionIndicator[data-status=idle]",state='attached',timeout=200000)
        except Exception as e: print('!!',n,str(e)[:100])
        p.wait_for_timeout(1500)
        print(n,size,round(time.time()-t,1)); print(p.evaluate("""()=>{const o=[];for(let e=document.querySelector('.hot-water-runs .hot-water-parts');e;e=e.parentElement){const c=getComputedStyle(e);if(c.overflowX!='visible'||c.overflowY!='visible'||c.contain!='none')o.push(e.className+' '+c.overflow+' '+c.contain+' '+c.position)}return o}""")); [print('    ',i) for i in p.evaluate(ISSUES)]
        for k,pane in enumerate(p.locator(".hot-water-parts").all()[:2]):
            pane.evaluate("e=>{e.closest('.hot-water-runs').scrollIntoView(); }")
            p.mouse.move(w-20,h-60); p.mouse.wheel(0,250); p.wait_for_timeout(700); p.screenshot(path=f'/tmp/ph/shots/{n}-{w}-p{k}.png')
        s=p.evaluate("Math.max(...[...document.querySelectorAll('.jp-WindowedPanel-outer,.jp-Notebook')].map(e=>e.scrollHeight))")
        p.set_viewport_size({'width':w,'height':min(int(s)+200,9000)}); p.wait_for_timeout(1500); p.screenshot(path=f'/tmp/ph/shots/{n}-{w}.png')
    p.close()
