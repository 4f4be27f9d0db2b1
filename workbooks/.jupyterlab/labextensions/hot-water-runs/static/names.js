/* Names what widgets and JupyterLab leave without a name, so that a screen reader can say it: a slider's handle and box
   get the name that stands before them, and the slider's value the unit behind it. A row of buttons of which one is
   pressed says which; a heading that folds says whether it is open. The keyboard's focus goes on when the part that has
   it is disabled or hidden. And makes the page large whose button "Large, for the room" is pressed (look.css says how; its
   own `:has()` would look through every new picture), and brings that panel to the top of the window, for with the page's
   size all places on it change. Used by the workbook's JupyterLab and by the pages of a room. */
(() => {
  let waiting = false;
  const put = (part, attribute, words) => {
    if (part.getAttribute(attribute) !== words) part.setAttribute(attribute, words);
  };
  const each = (selector, act) => document.querySelectorAll(selector).forEach(act);
  const describe = handle => {
    const row = handle.closest('.hot-water-row');
    if (!row) return;
    put(handle, 'aria-label', row.firstElementChild.textContent.trim());
    // A quantity's unit stands last in its row; a size stands there in full.
    const last = row.lastElementChild.textContent.trim();
    const number = row.querySelector('input') ? `${Number(handle.getAttribute('aria-valuenow'))} ` : '';
    put(handle, 'aria-valuetext', number + last);
  };
  // What had the keyboard and is now disabled or hidden gives it to the next part of its panel, else the last before it.
  let held = null;
  document.addEventListener('focusin', event => {
    held = event.target.closest('.hot-water-runs') && event.target.matches(':focus-visible') ? event.target : null;
  });
  const free = part => !part.disabled && part.tabIndex >= 0 && part.getClientRects().length > 0;
  const goOn = () => {
    if (!held?.isConnected || document.activeElement !== document.body || free(held)) return;
    const parts = [...held.closest('.hot-water-runs').querySelectorAll('button, input, select, a, .noUi-handle')];
    const place = parts.indexOf(held);
    (parts.slice(place).find(free) ?? parts.slice(0, place).findLast(free))?.focus({ preventScroll: true });
  };
  const makeLarge = () => each('.jp-Notebook', page =>
    page.classList.toggle('hot-water-page-large', page.querySelector('.hot-water-large.mod-active') !== null));
  const name = () => {
    waiting = false;
    goOn();
    each('.noUi-handle', describe);
    each('.hot-water-runs :is(input, select)[title]', box => put(box, 'aria-label', box.title));
    each('.hot-water-runs .widget-toggle-button', button => put(button, 'aria-pressed', String(button.classList.contains('mod-active'))));
    makeLarge();
    each('.jp-collapseHeadingButton', button => {
      const heading = button.closest('.jp-Cell')?.querySelector('h1, h2, h3, h4');
      put(button, 'aria-label', heading?.textContent.replace('¶', '').trim() || 'Fold');
      put(button, 'aria-expanded', String(!button.classList.contains('jp-mod-collapsed')));
    });
  };
  const soon = () => {
    if (!waiting) {
      waiting = true;
      setTimeout(name, 200);
    }
  };
  new MutationObserver(soon).observe(document, { childList: true, subtree: true, attributeFilter: ['class', 'disabled'] });
  // A slider writes its bare number whenever it moves.
  new MutationObserver(moves => moves.forEach(move => describe(move.target))).observe(document, {
    attributeFilter: ['aria-valuenow', 'aria-valuetext'],
    subtree: true
  });
  soon();
  document.addEventListener('click', event => {
    const button = event.target.closest('.hot-water-large');
    if (!button) return;
    makeLarge();
    button.scrollIntoView();
  });
})();
