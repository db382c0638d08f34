import { createWriteStream, renameSync, rmSync } from 'node:fs';
import { extname } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { InputError } from '../../core/errors.ts';
import {
  openWorkspace,
  readExportRows,
  writeCsv,
  writeGeoJson,
  writeParquet,
} from '../../core/workspace/index.ts';
import { startProgress } from '../progress.ts';
import { tellFileError } from '../tellFileError.ts';
import { tellNotices } from '../tellNotices.ts';
import { print, printJson } from './print.ts';

const WRITERS = { '.csv': writeCsv, '.parquet': writeParquet, '.geojson': writeGeoJson } as const;

/**
 * Writes every visit of a workspace, or every pole, into one file for other programs, of the kind that its ending says. The file
 * is there whole or not at all: it is written beside its place and renamed. Memory does not grow with the workspace.
 */
export async function runExport(
  workspace: string,
  options: { out: string; json?: boolean },
): Promise<number> {
  const ending = extname(options.out).toLowerCase();
  if (!(ending in WRITERS)) {
    throw new InputError(
      'export.ending',
      `${options.out} does not say by its ending what to write.`,
      'Name a file that ends in .csv, .parquet or .geojson.',
    );
  }
  const store = await openWorkspace(workspace, { readOnly: true });
  try {
    tellNotices(store.notices.filter((notice) => notice !== store.readOnly));
    const { visits } = await store.db
      .selectFrom('visits')
      .select(({ fn }) => fn.countAll<number>().as('visits'))
      .executeTakeFirstOrThrow();
    const progress = startProgress('Exporting visits', visits);
    const counts = { visits: 0, poles: 0, polesWithoutPosition: 0 };
    const counted = async function* () {
      for await (const part of readExportRows(store.db)) {
        counts.visits += part.length;
        for (const { row, position } of part) {
          if (row.standing !== 'latest') continue;
          counts.poles += 1;
          if (position === null) counts.polesWithoutPosition += 1;
        }
        progress.moveTo(counts.visits);
        yield part;
      }
    };
    await writeWhole(options.out, WRITERS[ending as keyof typeof WRITERS](counted()));
    progress.stop();
    if (options.json) printJson({ file: options.out, ...counts });
    else print(tellCounts(options.out, ending, counts));
    return 0;
  } finally {
    await store.close();
  }
}

function tellCounts(
  file: string,
  ending: string,
  { visits, poles, polesWithoutPosition }: { visits: number; poles: number; polesWithoutPosition: number },
): string {
  if (visits === 0) return `The workspace holds no visits; ${file} has none in it`;
  if (ending !== '.geojson') return `${visits} visits to ${poles} poles written to ${file}`;
  const without =
    polesWithoutPosition > 0
      ? `; ${polesWithoutPosition} of them have no coordinates and a null geometry`
      : '';
  return `${poles} poles written to ${file}${without}`;
}

/** @throws InputError `file.unwritable` */
async function writeWhole(path: string, parts: AsyncGenerator<Buffer>): Promise<void> {
  const unfinished = `${path}.${process.pid}.part`;
  try {
    await pipeline(Readable.from(parts), createWriteStream(unfinished, { flags: 'wx', flush: true }));
    renameSync(unfinished, path);
  } catch (error) {
    rmSync(unfinished, { force: true });
    if ((error as NodeJS.ErrnoException).syscall === undefined) throw error;
    throw new InputError(
      'file.unwritable',
      `${path} cannot be written: ${tellFileError(error)}.`,
      'Name a file in a folder that is there and may be written, on a disk with room.',
    );
  }
}
