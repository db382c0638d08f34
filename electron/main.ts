import { join } from 'node:path';
import { app, dialog } from 'electron';
import { StemrootError } from '../core/errors.ts';
import { withPrinter } from '../core/workspace/index.ts';
import { logCalls, openLog, openWorkbench } from '../host/index.ts';
import { declareAppScheme, serveWindowFolder } from './appProtocol.ts';
import { answerCalls } from './calls.ts';
import { chooseWorkspace, showWorkspaceDialog } from './chooseWorkspace.ts';
import { confine } from './confine.ts';
import { setMenu } from './menu.ts';
import { openWindow } from './openWindow.ts';
import { printPdf } from './printPdf.ts';

/** Where the build puts this file, the preload beside it and the window next door. */
const PRELOAD = join(import.meta.dirname, 'preload.cjs');
const WINDOW_FOLDER = join(import.meta.dirname, '../renderer');

async function run(): Promise<void> {
  confine();
  setMenu();
  const chosen = await chooseWorkspace(process.argv);
  if (chosen === null) return app.quit();
  const log = await openLog();
  const workbench = await openWorkbench(chosen.path, { create: chosen.create, choose: showWorkspaceDialog });
  answerCalls(logCalls(withPrinter(workbench.answer, printPdf), log));
  serveWindowFolder(WINDOW_FOLDER);
  app.on('window-all-closed', () => app.quit());
  app.once('before-quit', (event) => {
    // what is being worked on is stored first; the second time nothing holds the program
    event.preventDefault();
    void workbench
      .close()
      .finally(() => log.close())
      .finally(() => app.quit());
  });
  await openWindow(PRELOAD);
}

declareAppScheme();
// also for a window that would forget to ask for it
app.enableSandbox();
app
  .whenReady()
  .then(run)
  .catch((error) => {
    const [title, text] =
      error instanceof StemrootError
        ? [error.message, error.hint]
        : ['Stemroot cannot start.', String(error)];
    dialog.showErrorBox(title, text);
    app.exit(1);
  });
