import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseVisitFile } from '../core/recording/visitFile.ts';
import { makeBreakTests } from './breakTests.ts';
import { makeForeignBreakTests } from './foreignBreakTests.ts';
import { makeVisit, type VisitTruth } from './makeVisit.ts';
import { inventPole } from './place.ts';
import { STORIES } from './stories.ts';

const DEFAULT_FOLDER = fileURLToPath(new URL('made/', import.meta.url));
const NOTE = 'All of this is invented: no such place, pole, visit or break test exists.';

/**
 * Makes the samples: visit files and recordings in `visits/`, `break-tests.csv`, `break-tests-feet.csv` and
 * `truth.json`.
 * What an earlier run left in `visits/` is removed first. Two runs give the same bytes.
 * @param folder - created where it is missing
 */
export function makeSamples(folder: string): void {
  const visitsFolder = join(folder, 'visits');
  rmSync(visitsFolder, { recursive: true, force: true });
  mkdirSync(visitsFolder, { recursive: true });
  const truths: VisitTruth[] = [];
  for (const story of STORIES) {
    const pole = inventPole(story);
    for (const visitStory of story.visits) {
      const made = makeVisit(pole, visitStory);
      const name = `${made.name}.visit.json`;
      const text = `${JSON.stringify(made.visit, null, 2)}\n`;
      parseVisitFile(text, name);
      writeFileSync(join(visitsFolder, name), text);
      for (const recording of made.recordings)
        writeFileSync(join(visitsFolder, recording.file), recording.bytes);
      truths.push(made.truth);
    }
  }
  writeFileSync(join(folder, 'break-tests.csv'), makeBreakTests());
  writeFileSync(join(folder, 'break-tests-feet.csv'), makeForeignBreakTests());
  writeFileSync(join(folder, 'truth.json'), `${JSON.stringify({ note: NOTE, visits: truths }, null, 2)}\n`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const folder = process.argv[2] ?? DEFAULT_FOLDER;
  makeSamples(folder);
  process.stdout.write(`Invented samples are in ${folder}\n`);
}
