/**
 * How well prediction intervals, lower 5 % values and tolerance limits keep their word: invented break tests from a known law, few or
 * many, with errors in the modulus, one species or several, beside an interval that takes the fitted line for the truth.
 * `node bench/strengthStudy.ts [series a cell, 10000]` prints the tables and writes docs/studies/strength.md; a quarter of an hour on two cores.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { COUNTS, listCases } from './strengthStudy/listCases.ts';
import { type CaseOutcome, studyCase } from './strengthStudy/studyCase.ts';
import { studyTolerance, type ToleranceOutcome } from './strengthStudy/studyTolerance.ts';
import { writeTable } from './strengthStudy/writeTable.ts';

const DEFAULT_SERIES = 10_000;
const TOLERANCE_ERRORS = [0, 0.1];

type Share = { readonly worker: number; readonly workers: number; readonly series: number };
type Answer = { readonly at: number; readonly outcome: CaseOutcome };

if (isMainThread) await runStudy(Number(process.argv[2] ?? DEFAULT_SERIES));
else runShare(workerData as Share);

async function runStudy(series: number): Promise<void> {
  const cells = listCells();
  const workers = availableParallelism();
  const outcomes: CaseOutcome[] = [];
  await Promise.all(
    Array.from({ length: workers }, (_, worker) => {
      const share: Share = { worker, workers, series };
      return new Promise<void>((resolve, reject) => {
        const thread = new Worker(new URL(import.meta.url), { workerData: share });
        thread.on('message', ({ at, outcome }: Answer) => {
          // a copy came over: the case that tables sort by is the one of this thread
          outcomes[at] = { ...outcome, study: cells[at]!.study };
          process.stderr.write(`${outcomes.filter(Boolean).length} of ${cells.length} cells\n`);
        });
        thread.on('error', reject);
        thread.on('exit', () => resolve());
      });
    }),
  );
  const tolerances: ToleranceOutcome[] = TOLERANCE_ERRORS.flatMap((errorSd, i) =>
    COUNTS.map((count) => studyTolerance(count, errorSd, series, 1000 * (i + 1) + count)),
  );
  const file = join(import.meta.dirname, '..', 'docs', 'studies', 'strength.md');
  const text = writeTable(outcomes, tolerances, series, existsSync(file) ? readFileSync(file, 'utf8') : '');
  process.stdout.write(text);
  writeFileSync(file, text);
}

function runShare({ worker, workers, series }: Share): void {
  for (const [at, { study, count }] of listCells().entries()) {
    if (at % workers !== worker) continue;
    const answer: Answer = { at, outcome: studyCase(study, count, Math.round(study.share * series), at + 1) };
    parentPort!.postMessage(answer);
  }
}

function listCells() {
  return listCases().flatMap((study) => study.counts.map((count) => ({ study, count })));
}
