import { basename, dirname, join } from 'node:path';
import { WORKSPACE_ENDING } from '../workspaceEnding.ts';

/** Wide enough for ten million entries, so that names sort as numbers do. */
const NUMBER_WIDTH = 7;

/** Folder in which the backups of a workspace lie where no other is named: beside it. */
export function backupFolder(workspace: string): string {
  return join(dirname(workspace), `${basename(workspace, WORKSPACE_ENDING)}.backups`);
}

/**
 * Name of a backup: the workspace's, the number of the last entry of its trail, and the time. Ordered by the number, so that a
 * clock that was set back does no harm.
 */
export function nameBackup(workspace: string, lastEntry: number, at: Date): string {
  const time = at.toISOString().replaceAll(/[-:]|\.\d+/g, '');
  return `${basename(workspace, WORKSPACE_ENDING)}-${String(lastEntry).padStart(NUMBER_WIDTH, '0')}-${time}${WORKSPACE_ENDING}`;
}

/** Whether a file's name is one that {@link nameBackup} gives to backups of this workspace. */
export function isBackupOf(workspace: string, fileName: string): boolean {
  const stem = basename(workspace, WORKSPACE_ENDING);
  return (
    fileName.startsWith(`${stem}-`) && /^-\d{7,}-\d{8}T\d{6}Z\.stemroot$/.test(fileName.slice(stem.length))
  );
}
