import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { VisitInput } from '../core/readRecordings.ts';
import { parseVisitFile } from '../core/recording/index.ts';
import { makeSamples } from '../samples/make.ts';

const FOLDER = join(import.meta.dirname, '..', 'samples', 'made');

/** The first sample visit to a pole, made where the samples are missing. */
export function readSampleVisit(poleId: string): VisitInput {
  if (!existsSync(join(FOLDER, 'visits'))) makeSamples(FOLDER);
  const folder = join(FOLDER, 'visits');
  const visitName = readdirSync(folder).find(
    (name) => name.startsWith(poleId) && name.endsWith('.visit.json'),
  )!;
  const visit = parseVisitFile(readFileSync(join(folder, visitName), 'utf8'), visitName);
  const recordings = new Map(
    visit.recordings.map(({ file }) => [file, new Uint8Array(readFileSync(join(folder, file)))]),
  );
  return { visitName, visit, recordings };
}
