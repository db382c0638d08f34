import { app, dialog } from 'electron';

const FILTERS = [{ name: 'Stemroot workspace', extensions: ['stemroot'] }];
const OPEN = 0;
const MAKE = 1;

export type ChosenWorkspace = { path: string; create: boolean };

/** The workspace named at the start, or one that the user chooses; null where the user leaves. */
export async function chooseWorkspace(args: readonly string[]): Promise<ChosenWorkspace | null> {
  // Run from its folder, the shell gets that folder as its first argument.
  const named = args[app.isPackaged ? 1 : 2];
  if (named !== undefined) return { path: named, create: false };
  const { response } = await dialog.showMessageBox({
    message: 'Which workspace?',
    detail: 'A workspace is one file that holds poles, visits, recordings, assessments and rulings.',
    buttons: ['Open a workspace', 'Make a new one', 'Leave'],
    cancelId: 2,
  });
  if (response !== OPEN && response !== MAKE) return null;
  return showWorkspaceDialog(response === MAKE);
}

/** Has the user choose a workspace that is there, or say where a new one is to be; null where the dialog is left. */
export async function showWorkspaceDialog(make: boolean): Promise<ChosenWorkspace | null> {
  if (make) {
    const { filePath } = await dialog.showSaveDialog({ filters: FILTERS, defaultPath: 'poles.stemroot' });
    return filePath ? { path: filePath, create: true } : null;
  }
  const { filePaths } = await dialog.showOpenDialog({ filters: FILTERS, properties: ['openFile'] });
  return filePaths[0] === undefined ? null : { path: filePaths[0], create: false };
}
