/* Gives the handle of every slider the name that stands before it, so that a screen reader can say it.
   Widgets draw their sliders without one. And brings the panel whose button "Large, for the room" was pressed to the top
   of the window, for with the page's size all places on it change. Used by the workbook's JupyterLab and by the pages of a room. */
(() => {
  let waiting = false;
  const name = () => {
    waiting = false;
    for (const handle of document.querySelectorAll('.noUi-handle:not([aria-label])')) {
      const row = handle.closest('.hot-water-row');
      if (row) handle.setAttribute('aria-label', row.firstElementChild.textContent.trim());
    }
  };
  const soon = () => {
    if (!waiting) {
      waiting = true;
      setTimeout(name, 200);
    }
  };
  new MutationObserver(soon).observe(document, { childList: true, subtree: true });
  soon();
  document.addEventListener('click', event => event.target.closest('.hot-water-large')?.scrollIntoView());
})();
