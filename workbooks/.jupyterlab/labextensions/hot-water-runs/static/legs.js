/* Lesson 11: a row of the table and its leg on the sketch are one. The row in hand shows all its boxes, and its leg is
   marked on the sketch. A press on a leg, or on its words, puts the keyboard into its row; where that row is on another page
   or in another table, the box "Go to leg" brings it (leg_choice.py); where the leg of a row in hand stands on another view of
   the sketch, it brings that view (view_choice.py). The marks are lines and boxes over the sketch, seen where the
   panel has the property `--leg-` with their number, so a new sketch has its mark at once. Used by the workbook's JupyterLab
   and by the pages of a room. */
(() => {
  const REACH = 24; // [px of the screen] from a finger to the leg that it means
  let wanted = null; // { root, leg, until } whose row is still to come
  const seen = part => part.getClientRects().length > 0;
  const legOf = row => row?.querySelector('.hot-water-number')?.dataset.leg;
  const rowsOf = root => [...root.querySelectorAll('.hot-water-table-row')].filter(row => legOf(row) && seen(row));
  const put = (part, name, on) => {
    if (part.classList.contains(name) !== on) part.classList.toggle(name, on);
  };

  /* On a narrow screen the sketch scrolls in a window of its own: the leg is brought into it. */
  const bringIntoView = (root, leg) => {
    const frame = root.querySelector('.hot-water-parts');
    const line = root.querySelector(`svg[role=img] line[data-leg="${leg}"]`);
    if (!line || !seen(frame) || frame.scrollHeight <= frame.clientHeight) return;
    const middle = axis => (line[axis + 1].baseVal.value + line[axis + 2].baseVal.value) / 2;
    const part = [...frame.querySelectorAll('svg')].find(({ viewBox: { baseVal: box } }) => middle('x') >= box.x && middle('x') <= box.x + box.width);
    if (!part) return;
    const { top, height } = part.getBoundingClientRect(), box = part.viewBox.baseVal;
    frame.scrollTop += top + ((middle('y') - box.y) / box.height) * height - frame.getBoundingClientRect().top - frame.clientHeight / 2;
  };

  const mark = (root, row) => {
    const leg = legOf(row), before = root.dataset.marked;
    for (const one of root.querySelectorAll('.hot-water-table-row')) put(one, 'hot-water-lit', one === row);
    if (leg === before) return;
    root.style.removeProperty(`--leg-${before}`);
    delete root.dataset.marked;
    if (!leg) return;
    root.style.setProperty(`--leg-${leg}`, 1);
    root.dataset.marked = leg;
    bringIntoView(root, leg);
  };

  /* The row that was in hand, if it still is a leg's; the first one on a page that was only now opened or turned. */
  const keepUp = () => {
    for (const table of document.querySelectorAll('.hot-water-table')) {
      const root = table.closest('.hot-water-runs');
      const rows = rowsOf(root);
      if (wanted?.root === root) {
        const row = rows.find(one => legOf(one) === wanted.leg);
        if (row || Date.now() > wanted.until) wanted = null;
        row?.querySelector('input').focus();
      }
      mark(root, rows.find(row => row.contains(document.activeElement)) ?? rows.find(row => row.classList.contains('hot-water-lit')) ?? rows[0]);
    }
  };

  document.addEventListener('focusin', event => {
    const row = event.target.closest('.hot-water-table-row'), leg = legOf(row);
    if (!leg) return;
    const root = row.closest('.hot-water-runs');
    mark(root, row);
    if (!root.querySelector(`svg[role=img] [data-leg="${leg}"]`)) goTo(root, leg); // it stands on another view
  });

  /* Types a leg's number into the box "Go to leg". The keyboard stays where it is: only a reader's own typing moves it. */
  let typing = false;
  const goTo = (root, leg) => {
    const choice = root.querySelector('.hot-water-leg-choice input');
    typing = true;
    choice.value = leg;
    choice.dispatchEvent(new Event('change', { bubbles: true }));
    typing = false;
  };

  const want = (root, leg) => {
    wanted = { root, leg, until: Date.now() + 5000 };
    keepUp();
    return wanted !== null;
  };

  document.addEventListener('change', event => {
    const root = event.target.closest('.hot-water-leg-choice') && event.target.closest('.hot-water-runs');
    if (root && !wanted && !typing) want(root, event.target.value.trim());
  }, true);

  /* How far a point is from a leg's line, or from the box of its words [px of the picture]. */
  const distance = (sign, x, y) => {
    const of = name => sign[name].baseVal.value;
    if (sign.tagName === 'rect') {
      return Math.hypot(Math.max(of('x') - x, 0, x - of('x') - of('width')), Math.max(of('y') - y, 0, y - of('y') - of('height')));
    }
    const along = [of('x2') - of('x1'), of('y2') - of('y1')], from = [x - of('x1'), y - of('y1')];
    const share = (along[0] * from[0] + along[1] * from[1]) / (along[0] ** 2 + along[1] ** 2);
    const kept = Math.min(Math.max(share, 0), 1);
    return Math.hypot(from[0] - kept * along[0], from[1] - kept * along[1]);
  };

  document.addEventListener('click', event => {
    const picture = event.target.closest('.hot-water-runs svg');
    const root = picture?.closest('.hot-water-runs');
    if (!root?.querySelector('.hot-water-table')) return;
    const place = picture.getBoundingClientRect(), box = picture.viewBox.baseVal, scale = box.width / place.width;
    const at = [box.x + (event.clientX - place.left) * scale, box.y + (event.clientY - place.top) * scale];
    let nearest = null, least = REACH * scale;
    for (const sign of root.querySelectorAll('svg[role=img] [data-leg]')) {
      const far = distance(sign, ...at);
      if (far < least) [nearest, least] = [sign, far];
    }
    if (nearest && want(root, nearest.dataset.leg)) goTo(root, nearest.dataset.leg);
  });

  let waiting = false;
  new MutationObserver(() => {
    if (waiting) return;
    waiting = true;
    setTimeout(() => {
      waiting = false;
      keepUp();
    }, 50);
  }).observe(document, { childList: true, subtree: true });
})();
