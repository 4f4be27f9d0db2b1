/* Says of every slider what stands around it: its handle gets the name before it, and its value the unit behind it, so
   that a screen reader can say both. Widgets draw their sliders without. A row of buttons of which one is pressed says
   which. Used by the workbook's JupyterLab and by the pages of a room. */
(() => {
  let waiting = false;
  const put = (part, attribute, words) => {
    if (part.getAttribute(attribute) !== words) part.setAttribute(attribute, words);
  };
  const describe = handle => {
    const row = handle.closest('.hot-water-row');
    if (!row) return;
    put(handle, 'aria-label', row.firstElementChild.textContent.trim());
    // A quantity's unit stands last in its row; a size stands there in full.
    const last = row.lastElementChild.textContent.trim();
    const number = row.querySelector('input') ? `${Number(handle.getAttribute('aria-valuenow'))} ` : '';
    put(handle, 'aria-valuetext', number + last);
  };
  const name = () => {
    waiting = false;
    document.querySelectorAll('.noUi-handle').forEach(describe);
    for (const button of document.querySelectorAll('.hot-water-runs .widget-toggle-button, .hot-water-runs .widget-toggle-buttons button')) {
      put(button, 'aria-pressed', String(button.classList.contains('mod-active')));
    }
  };
  const soon = () => {
    if (!waiting) {
      waiting = true;
      setTimeout(name, 200);
    }
  };
  new MutationObserver(soon).observe(document, { childList: true, subtree: true });
  // A slider writes its bare number whenever it moves.
  new MutationObserver(moves => moves.forEach(move => describe(move.target))).observe(document, {
    attributeFilter: ['aria-valuenow', 'aria-valuetext'],
    subtree: true
  });
  document.addEventListener('click', soon);
  soon();
})();
