import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { isBackupOf } from './backupName.ts';

/** Paths of the backups of a workspace in a folder, the newest first. */
export function listBackups(workspace: string, folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((name) => isBackupOf(workspace, name))
    .sort()
    .reverse()
    .map((name) => join(folder, name));
}
