import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { InputError } from '../../core/errors.ts';
import { tellFileError } from '../tellFileError.ts';

/** Reads a file that a command names. @throws InputError `file.unreadable` */
export function readInput(path: string): Buffer {
  try {
    return readFileSync(path);
  } catch (error) {
    throw new InputError(
      'file.unreadable',
      `${path} cannot be read: ${tellFileError(error)}.`,
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
      `${path} cannot be written: ${tellFileError(error)}.`,
      'Name a file in a folder that is there and may be written.',
    );
  }
}

/** Makes the folder that a command names, where it is missing. @throws InputError `folder.unmade` */
export function makeFolder(path: string): void {
  try {
    mkdirSync(path, { recursive: true });
  } catch (error) {
    throw new InputError(
      'folder.unmade',
      `The folder ${path} cannot be made: ${tellFileError(error)}.`,
      'Name a folder that is there, or can be made.',
    );
  }
}
