/* How the workbook's pages behave in JupyterLab. JupyterLab loads this script as it is: nothing builds it.

 - A window opens on the page alone, without the lists at its sides.
 - Ctrl+S (Command+S) saves the page also while a box of a panel has the focus: boxes keep their keys to themselves.
*/
(() => {
  const plugin = {
    id: 'hot-water-runs:pages',
    autoStart: true,
    activate: app => {
      app.restored.then(() => {
        app.shell.collapseLeft();
        app.shell.collapseRight();
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
  };
  globalThis._JUPYTERLAB = globalThis._JUPYTERLAB || {};
  globalThis._JUPYTERLAB['hot-water-runs'] = {
    init: () => undefined,
    get: () => Promise.resolve(() => ({ __esModule: true, default: plugin }))
  };
})();
