import { readdirSync, readFileSync, realpathSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { InputError } from '../core/errors.ts';
import type { VisitInput } from '../core/readRecordings.ts';
import { LARGEST_VISIT_FILE_BYTES, RECORDING_LIMITS } from '../core/recording/index.ts';
import { decodeVisitFile, type VisitSource } from '../core/workspace/batch.ts';
import { WORKSPACE_ENDING } from '../core/workspace/workspaceEnding.ts';
import { tellFileError } from './tellFileError.ts';

export const VISIT_FILE_ENDING = '.visit.json';

/**
 * Lists visit files: a file as it was given, a folder as all visit files in it and below, by name; links to
 * other folders are not followed.
 * @throws InputError `visit.missing` for a path that is not there, `visit.none` for a folder without visit files and for no path at all
 */
export function findVisitFiles(paths: readonly string[]): string[] {
  if (paths.length === 0) {
    throw new InputError(
      'visit.none',
      'There is nothing to import: no visit file and no folder is named.',
      'Name visit files (*.visit.json), or a folder of them.',
    );
  }
  return paths.flatMap((path) => {
    const kind = statSync(path, { throwIfNoEntry: false });
    if (!kind) {
      throw new InputError(
        'visit.missing',
        `There is no such file or folder: ${path}.`,
        `Check the path; name visit files (*${VISIT_FILE_ENDING}), or a folder of them.`,
      );
    }
    if (!kind.isDirectory()) return [path];
    const found = walk(path).sort();
    if (found.length > 0) return found;
    throw new InputError(
      'visit.none',
      `The folder ${path} holds no file whose name ends in ${VISIT_FILE_ENDING}.`,
      'There is nothing to import: name a folder with visit files and their recordings.',
    );
  });
}

/** Node's own recursive reading goes along links to folders: round in a circle, or through the whole disk. */
function walk(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return walk(path);
    return entry.name.endsWith(VISIT_FILE_ENDING) ? [path] : [];
  });
}

/** A visit file on disk with the recordings beside it, for an import. */
export function locateVisit(path: string): VisitSource {
  return {
    fileName: basename(path),
    readVisitFile: () => readVisitBytes(path),
    readRecordingFile: (fileName) => readBeside(path, fileName),
  };
}

/**
 * Reads a visit and its recordings for the chain. A recording that is missing is left out: the chain names it.
 * @param path - of the visit file; kept as the visit's name
 * @throws StemrootError saying what is wrong with the visit file
 */
export function readVisit(path: string): VisitInput {
  const visit = decodeVisitFile(readVisitBytes(path), path);
  const found = visit.recordings.map(({ file }) => [file, readBeside(path, file)] as const);
  const recordings = found.filter((pair): pair is [string, Uint8Array] => pair[1] !== undefined);
  return { visitName: path, visit, recordings: new Map(recordings) };
}

function readVisitBytes(path: string): Uint8Array {
  const kind = statSync(path, { throwIfNoEntry: false });
  if (!kind?.isFile()) throw missing(path);
  if (path.endsWith(WORKSPACE_ENDING)) {
    throw new InputError(
      'visit.isWorkspace',
      `${path} is a workspace; a visit file (*${VISIT_FILE_ENDING}) is expected.`,
      'Name a visit file; show and list tell what a workspace holds.',
    );
  }
  refuseLargerThan(
    LARGEST_VISIT_FILE_BYTES,
    path,
    kind.size,
    'Recordings belong in files of their own beside it.',
  );
  return read(path);
}

/** A recording in the folder of its visit file; a link that leads out of that folder is refused, as a path would be. */
function readBeside(visitPath: string, fileName: string): Uint8Array | undefined {
  const folder = realpathSync(dirname(visitPath));
  const path = join(folder, fileName);
  const kind = statSync(path, { throwIfNoEntry: false });
  if (!kind?.isFile()) return undefined;
  if (dirname(realpathSync(path)) !== folder) {
    throw new InputError(
      'recording.link',
      `${path} is a link to a file in another folder; a recording lies beside its visit file.`,
      'Copy the recording into the folder of the visit file.',
    );
  }
  refuseLargerThan(
    RECORDING_LIMITS.largestFileBytes,
    path,
    kind.size,
    'Cut the file into shorter ones around the strikes.',
  );
  return read(path);
}

function refuseLargerThan(mostBytes: number, path: string, bytes: number, hint: string): void {
  if (bytes <= mostBytes) return;
  throw new InputError('recording.size', `${path} has ${bytes} bytes; at most ${mostBytes} are read.`, hint);
}

function read(path: string): Uint8Array {
  try {
    return readFileSync(path);
  } catch (error) {
    throw new InputError(
      'file.unreadable',
      `${path} cannot be read: ${tellFileError(error)}.`,
      'Check the rights of the file, and the disk that it lies on.',
    );
  }
}

function missing(path: string): InputError {
  return new InputError(
    'visit.missing',
    `There is no file ${path}.`,
    'Check the path of the visit file; recordings lie beside it.',
  );
}
