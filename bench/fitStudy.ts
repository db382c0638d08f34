/**
 * How well the fit of stem and root keeps its word: invented poles from the samples' finite elements, with girth,
 * modulus and density that vary along the stem and planes that are not alike, drawn from the fit's own priors.
 * Bias, width and coverage of 90 % intervals by truth, modes at hand and what hangs on the pole.
 * `node bench/fitStudy.ts [poles for each case, 500]` prints the table and writes docs/studies/fit.md.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { type FitCase, listCases, type PoleDraw, type PoleOutcome, studyPole } from './fitStudy/studyPole.ts';
import { writeTable } from './fitStudy/writeTable.ts';

type Task = { fitCase: FitCase; draw: PoleDraw };

if (isMainThread) await runStudy(Number(process.argv[2] ?? 500), process.argv[3] ?? 'fit study');
else runShare(workerData as Task[]);

async function runStudy(count: number, study: string): Promise<void> {
  const tasks = listCases().flatMap((fitCase) =>
    Array.from({ length: count }, (_, index): Task => ({ fitCase, draw: { study, index, count } })),
  );
  const workers = availableParallelism();
  const started = performance.now();
  const outcomes: PoleOutcome[] = [];
  await Promise.all(
    Array.from({ length: workers }, (_, w) => {
      const share = tasks.filter((_task, i) => i % workers === w);
      return new Promise<void>((resolve, reject) => {
        const worker = new Worker(new URL(import.meta.url), { workerData: share });
        worker.on('message', (outcome: PoleOutcome[]) => {
          outcomes.push(...outcome);
          if (outcomes.length % 1000 === 0) process.stderr.write(`${outcomes.length} fits\n`);
        });
        worker.on('error', reject);
        worker.on('exit', () => resolve());
      });
    }),
  );
  const minutes = (performance.now() - started) / 60_000;
  const text = writeTable(outcomes, count);
  process.stdout.write(`${text}\n${minutes.toFixed(1)} minutes on ${workers} threads\n`);
  const folder = join(import.meta.dirname, '..', 'docs', 'studies');
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'fit.md'), text);
}

function runShare(tasks: readonly Task[]): void {
  for (const { fitCase, draw } of tasks) parentPort!.postMessage(studyPole(fitCase, draw));
}
