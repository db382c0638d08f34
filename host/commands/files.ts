import { readFileSync, writeFileSync } from 'node:fs';
import { InputError } from '../../core/errors.ts';

/** Reads a file that a command names. @throws InputError `file.unreadable` */
export function readInput(path: string): Buffer {
  try {
    return readFileSync(path);
  } catch (error) {
    throw new InputError(
      'file.unreadable',
      `${path} cannot be read (${(error as Error).message}).`,
      'Check the path and the rights of the file.',
    );
  }
}

/** Writes the file that a command names. @throws InputError `file.unwritable` */
export function writeOutput(path: string, data: string | Uint8Array): void {
  try {
    writeFileSync(path, data);
  } catch (error) {
    throw new InputError(
      'file.unwritable',
      `${path} cannot be written (${(error as Error).message}).`,
      'Name a file in a folder that is there and may be written.',
    );
  }
}
