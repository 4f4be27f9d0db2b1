// Part of every lesson's page in a room: says when the page's Python or the room's computer is gone, brings the page
// back with one click, and puts back into the boxes what was typed and may not have arrived. Asks this machine only.
(() => {
  'use strict';
  const EVERY = 2500; // [ms] between two questions whether the page is awake
  const SILENT = 6500; // [ms] without an answer, or without a line to the kernel, until the page says that it is asleep
  const UNSURE = 10000; // [ms] before the last sign of life, in which what was sent may not have arrived
  const HELD = 60000; // [ms] after a reload in which boxes are waited for
  const KEPT = 'hot-water-runs typed ' + location.pathname;
  const BOXES = 'input:not([type]), input[type=text], input[type=number], textarea';
  const GONE = 'This page is asleep: it was left alone for long, or its program ended. What you typed is kept.';
  const SILENCE = "This page is asleep: the room's computer does not answer. What you typed is kept.";
  const TRYING = "The room's computer does not answer yet. This page tries on and comes back by itself. What you typed is kept.";

  const lines = new Set(); // the page's own lines to its kernel
  let account = null, heard = Date.now(), ticked = heard, online = null, sign = null, wanted = false, asleep = false;
  let gone = false, leaving = false;
  const typed = new Map(); // box -> {text, at, sent}

  // The lines that Voila's script opens to the kernel are noted; nothing is changed in them.
  window.WebSocket = new Proxy(window.WebSocket, {
    construct(Kind, given) {
      const line = new Kind(...given);
      if (String(given[0]).includes('/channels')) {
        line.addEventListener('open', () => { lines.add(line); online = Date.now(); });
        line.addEventListener('close', () => { if (lines.delete(line) && !lines.size) online = Date.now(); });
      }
      return line;
    },
  });

  function kernel() {
    const found = document.getElementById('jupyter-config-data');
    return found ? JSON.parse(found.textContent).kernelId : null;
  }

  async function ask() {
    const id = kernel();
    if (!id || leaving) return;
    const end = new AbortController();
    const late = setTimeout(() => end.abort(), SILENT / 2);
    try {
      const answer = await fetch('/awake/' + id, { cache: 'no-store', signal: end.signal });
      const told = await answer.text(); // read to its end: the browser cuts a line on which an answer is left unread
      heard = Date.now();
      gone = !answer.ok;
      if (wanted) reload();
      else if (answer.ok && account === null) { account = told; putBack(); }
    } catch (silence) { // no answer: `heard` stays as it is
    } finally { clearTimeout(late); }
    look();
  }

  function look() {
    const now = Date.now();
    if (now - ticked > 2 * EVERY) { heard = now; if (!lines.size && online) online = now; } // the computer itself slept
    ticked = now;
    const cut = online !== null && !lines.size && now - online > SILENT;
    const silent = now - heard > SILENT;
    if (leaving || !(gone || cut || silent)) { if (asleep && !wanted) wake(); return; }
    keep();
    say(wanted ? TRYING : gone ? GONE : SILENCE);
  }

  function say(words) {
    asleep = true;
    if (!sign) {
      sign = document.createElement('div');
      sign.id = 'asleep';
      sign.setAttribute('role', 'alert');
      sign.style.cssText = 'position:fixed;left:0;right:0;top:0;z-index:2147483647;background:#fff7e6;color:#1b1b1b;' +
        'border-bottom:5px solid #b45309;padding:12px 16px;font:18px/1.4 system-ui,sans-serif;box-shadow:0 2px 12px #0006';
      const button = document.createElement('button');
      button.textContent = 'Wake the page';
      button.style.cssText = 'display:block;margin-top:8px;padding:8px 18px;font:inherit;font-weight:600;color:#fff;' +
        'background:#0b5394;border:0;border-radius:4px;cursor:pointer';
      button.addEventListener('click', () => { wanted = true; button.disabled = true; ask(); });
      sign.append(document.createElement('span'), button);
      document.body.append(sign);
    }
    if (sign.firstChild.textContent !== words) sign.firstChild.textContent = words;
  }

  function wake() {
    asleep = false;
    if (sign) sign.remove();
    sign = null;
    sessionStorage.removeItem(KEPT);
  }

  function reload() {
    keep();
    leaving = true;
    location.reload();
  }

  // What is typed. A box is known again by its place in the page and by what is said about it.
  function place(box) {
    const cell = box.closest('[cell-index]'), row = box.closest('.widget-inline-hbox'), label = row && row.querySelector('label');
    return [cell && cell.getAttribute('cell-index'), box.type, box.placeholder, box.title, label && label.textContent].join('|');
  }

  function numbered(box) {
    const here = place(box);
    return here + '|' + [...document.querySelectorAll(BOXES)].filter(one => place(one) === here).indexOf(box);
  }

  document.addEventListener('input', event => {
    if (event.isTrusted && event.target.matches(BOXES)) typed.set(event.target, { text: event.target.value, at: Date.now(), sent: false });
  }, true);
  document.addEventListener('change', event => {
    const known = typed.get(event.target);
    if (known) Object.assign(known, { at: Date.now(), sent: true });
  }, true);
  document.addEventListener('keydown', event => {
    const known = event.key === 'Enter' && typed.get(event.target);
    if (known) Object.assign(known, { at: Date.now(), sent: true });
  }, true);

  function keep() {
    const last = Math.min(heard, lines.size || online === null ? heard : online);
    const unsure = [...typed].filter(([box, one]) => box.isConnected && (!one.sent || one.at > last - UNSURE));
    if (!unsure.length || account === null) return;
    const boxes = unsure.map(([box, one]) => [numbered(box), box.value, one.sent]);
    sessionStorage.setItem(KEPT, JSON.stringify({ account, boxes }));
  }

  function putBack() {
    const kept = JSON.parse(sessionStorage.getItem(KEPT) || 'null');
    sessionStorage.removeItem(KEPT);
    if (!kept || kept.account !== account) return;
    const until = Date.now() + HELD;
    let left = kept.boxes;
    const look_for = setInterval(() => {
      const here = new Map([...document.querySelectorAll(BOXES)].map(box => [numbered(box), box]));
      left = left.filter(([name, text, sent]) => {
        const box = here.get(name);
        if (!box || !lines.size) return true;
        if (box.value !== text) fill(box, text, sent);
        return false;
      });
      if (!left.length || Date.now() > until) clearInterval(look_for);
    }, 300);
  }

  function fill(box, text, sent) {
    box.value = text;
    typed.set(box, { text, at: Date.now(), sent });
    box.dispatchEvent(new Event('input', { bubbles: true }));
    if (sent) box.dispatchEvent(new Event('change', { bubbles: true }));
  }

  addEventListener('pagehide', () => { leaving = true; });
  addEventListener('pageshow', event => { if (event.persisted) location.reload(); }); // back to a page that was left
  document.addEventListener('visibilitychange', () => { if (!document.hidden) { ticked = 0; ask(); } });
  setInterval(ask, EVERY);
  setInterval(look, 1000);
})();
