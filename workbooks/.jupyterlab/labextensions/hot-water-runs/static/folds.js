/* Beneath the line where the ten minutes end stands one row of buttons, one for each part of the page that is for later.
   A button opens its part and closes it again; so does the button beside the part's heading. A closed part shows nothing.
   Used by the workbook's JupyterLab (pages.js), which folds in its own way, and by the pages of a room. */
(() => {
  const END = 'The ten minutes end here';
  const heading = cell => cell.querySelector('.jp-MarkdownOutput > h2, .jp-RenderedMarkdown > h2');
  const button = (words, press) => {
    const made = document.createElement('button');
    made.type = 'button';
    made.textContent = words;
    made.addEventListener('click', press);
    return made;
  };

  /* line: the cell that says where the ten minutes end; parts: name, the heading's cell, isOpen(), set(open). Gives what
     shows how things stand; it is to be called when a part was opened or closed in another way. */
  globalThis.hotWaterFolds = (line, parts) => {
    const row = document.createElement('nav');
    row.className = 'hot-water-folds';
    row.setAttribute('aria-label', 'Parts of this page for later');
    const buttons = parts.map(part => {
      const turn = open => {
        part.set(open);
        show();
        if (open) part.cell.scrollIntoView({ block: 'start' });
      };
      const opens = button(part.name, () => turn(!part.isOpen()));
      const closes = button('Close this part', () => {
        turn(false);
        opens.focus();
      });
      closes.className = 'hot-water-close';
      part.cell.append(closes);
      row.append(opens);
      return opens;
    });
    const show = () =>
      parts.forEach((part, number) => {
        buttons[number].setAttribute('aria-expanded', part.isOpen());
        part.cell.classList.toggle('hot-water-closed', !part.isOpen());
      });
    line.append(row);
    show();
    return show;
  };

  /* The pages of a room: every cell is there, one after the other. */
  globalThis.hotWaterFoldsOfRoom = () => {
    const cells = [...document.querySelectorAll('.jp-Cell')];
    const end = cells.findIndex(cell => cell.textContent.includes(END) && cell.classList.contains('jp-MarkdownCell'));
    if (end < 0) return;
    const parts = [];
    for (const cell of cells.slice(end + 1)) {
      const title = heading(cell);
      const name = title?.firstChild.textContent.trim();
      if (name === 'Next') break;
      if (name) parts.push({ name, cell, inside: [] });
      else parts.at(-1)?.inside.push(cell);
    }
    for (const part of parts) {
      let open = false;
      part.isOpen = () => open;
      part.set = now => {
        open = now;
        for (const cell of part.inside) cell.classList.toggle('hot-water-closed', !open);
      };
      part.set(false);
    }
    globalThis.hotWaterFolds(cells[end], parts);
  };

  globalThis.hotWaterFolds.END = END;
})();
