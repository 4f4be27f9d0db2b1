/* How the workbook's pages behave in JupyterLab. JupyterLab loads this script as it is: nothing builds it.

 - A window opens on the page alone, without the lists at its sides.
 - A page that came with the workbook runs by itself when it opens; its pictures are then live. Which pages those are is
   Jupyter's own business: a cell is trusted when the whole page is signed (see jupyter_server_config.py). Any other page
   opens at rest.
 - A button makes a page live again, in the toolbar always, and on the page when its Python has ended or was started anew.
 - Everything that takes the keyboard has a name that a screen reader can say (names.js).
 - The parts of a page that are for later open and close by one row of buttons (folds.js).
 - In lesson 11 the row in hand and its leg on the sketch are one (legs.js).
 - Ctrl+S (Command+S) saves the page also while a box of a panel has the focus: boxes keep their keys to themselves.
*/
(() => {
  const AGAIN = 'Make this page live again';
  const SAID = {
    starting: 'This page is starting. Its panels can be moved in a few seconds.',
    resting: 'This page did not come with the workbook, or was changed. It has not been started by itself.',
    ended: 'The Python behind this page has stopped. What you answered is kept.',
    failed: 'A part of this page did not start. Please try once more.'
  };
  let shared; // JupyterLab's own modules

  for (const name of ['names.js', 'folds.js', 'legs.js']) {
    const script = document.createElement('script');
    script.src = new URL(name, document.currentScript.src);
    document.head.append(script);
  }

  const moduleOf = async name => {
    const versions = Object.values(shared[name]);
    return (await versions[0].get())();
  };

  /* A line over the page that says how it stands, with the button where there is something to do. */
  const notice = panel => {
    const bar = document.createElement('div');
    bar.className = 'hot-water-notice';
    bar.setAttribute('role', 'status');
    const words = document.createElement('span');
    const button = document.createElement('button');
    button.textContent = AGAIN;
    const share = document.createElement('progress'); // of the page's parts that are there
    share.setAttribute('aria-label', 'Parts of the page that are there');
    bar.append(words, share, button);
    bar.hidden = true;
    panel.node.append(bar);
    return {
      button,
      say: key => {
        // The button goes; a keyboard that was on it goes to the page.
        if (bar.contains(document.activeElement)) panel.content.activeCell?.node.focus({ preventScroll: true });
        bar.hidden = !key;
        bar.dataset.says = key || '';
        words.textContent = key ? SAID[key] : '';
        button.hidden = key === 'starting';
        share.hidden = !button.hidden;
        share.value = 0;
      },
      tell: (done, all) => {
        share.max = all;
        share.value = done;
      }
    };
  };

  /* The folds of JupyterLab's own, under the row of buttons. Opening one is nothing to save. */
  const foldRow = ({ content, context }, NotebookActions) => {
    const source = cell => cell.model.sharedModel.source;
    const end = content.widgets.findIndex(cell => source(cell).includes(hotWaterFolds.END));
    if (end < 0) return;
    const headings = content.widgets.slice(end + 1).filter(cell => /^## (?!Next)/.test(source(cell)));
    const show = hotWaterFolds(
      content.widgets[end].node,
      headings.map(cell => ({
        name: source(cell).split('\n')[0].slice(3),
        cell: cell.node,
        isOpen: () => !cell.headingCollapsed,
        set: open => {
          const unsaved = context.model.dirty;
          NotebookActions.setHeadingCollapse(cell, !open, content);
          context.model.dirty = unsaved;
        }
      }))
    );
    for (const cell of headings) cell.headingCollapsedChanged.connect(() => show());
  };

  const follow = async (panel, NotebookActions, ToolbarButton) => {
    const { context, sessionContext } = panel;
    const told = notice(panel);
    let running = false;

    const makeLive = async () => {
      if (running) return;
      running = true;
      told.say('starting');
      const { content } = panel;
      const unsaved = context.model.dirty;
      const parts = content.widgets.filter(cell => cell.model.type === 'code').length;
      let done = 0;
      const count = (_, { notebook, cell }) => {
        if (notebook === content && cell.model.type === 'code') told.tell(++done, parts);
      };
      NotebookActions.executed.connect(count);
      try {
        if (!sessionContext.session?.kernel) await sessionContext.changeKernel({ name: 'python3' });
        await sessionContext.session.kernel.info;
        // Unlike "Run All Cells", this leaves the reader where they are.
        const good = await NotebookActions.runCells(content, content.widgets, sessionContext);
        // Pictures that a page made of itself are nothing to save: only what the reader changes is.
        context.model.dirty = unsaved;
        told.say(good ? '' : 'failed');
      } catch (reason) {
        console.error(reason);
        told.say('failed');
      } finally {
        NotebookActions.executed.disconnect(count);
        running = false;
      }
    };

    told.button.addEventListener('click', makeLive);
    panel.toolbar.insertItem(0, 'live-again', new ToolbarButton({ label: `↻ ${AGAIN}`, tooltip: 'Run every part of this page once more', onClick: makeLive }));
    await Promise.all([context.ready, panel.revealed]);
    foldRow(panel, NotebookActions);
    await sessionContext.ready;
    sessionContext.statusChanged.connect((_, status) => {
      if (!running && ['restarting', 'autorestarting', 'dead', 'terminating', 'unknown'].includes(status)) told.say('ended');
    });
    sessionContext.kernelChanged.connect((_, change) => {
      if (!running && !change.newValue) told.say('ended');
    });
    const cells = Array.from(context.model.cells).filter(cell => cell.type === 'code');
    if (cells.every(cell => cell.trusted)) await makeLive();
    else told.say('resting');
  };

  const plugin = (tracker, NotebookActions, ToolbarButton) => ({
    id: 'hot-water-runs:pages',
    autoStart: true,
    requires: [tracker],
    activate: (app, pages) => {
      app.restored.then(() => {
        app.shell.collapseLeft();
        app.shell.collapseRight();
      });
      const followed = new WeakSet(); // a second view of an open page shows the same panels
      pages.widgetAdded.connect((_, panel) => {
        if (followed.has(panel.context)) return;
        followed.add(panel.context);
        follow(panel, NotebookActions, ToolbarButton).catch(reason => console.error(reason));
      });
      const saveFromBox = event => {
        const asksToSave = (event.ctrlKey || event.metaKey) && !event.shiftKey && !event.altKey && event.key.toLowerCase() === 's';
        if (asksToSave && event.target.closest('.jupyter-widgets')) {
          event.preventDefault();
          app.commands.execute('docmanager:save');
        }
      };
      document.addEventListener('keydown', saveFromBox, true); // before the box hears of it
    }
  });

  globalThis._JUPYTERLAB = globalThis._JUPYTERLAB || {};
  globalThis._JUPYTERLAB['hot-water-runs'] = {
    init: scope => {
      shared = scope;
    },
    get: async () => {
      const { INotebookTracker, NotebookActions } = await moduleOf('@jupyterlab/notebook');
      const { ToolbarButton } = await moduleOf('@jupyterlab/ui-components');
      return () => ({ __esModule: true, default: plugin(INotebookTracker, NotebookActions, ToolbarButton) });
    }
  };
})();
