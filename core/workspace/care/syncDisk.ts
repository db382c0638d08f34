import { closeSync, fsyncSync, openSync } from 'node:fs';
import { dirname } from 'node:path';

/** Has the operating system write a file, and its name in its folder, to the disk itself. */
export function syncDisk(path: string): void {
  syncOne(path, 'r+');
  // Windows lets nobody open a folder, and keeps its names by itself
  if (process.platform !== 'win32') syncOne(dirname(path), 'r');
}

function syncOne(path: string, mode: string): void {
  const file = openSync(path, mode);
  try {
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}
