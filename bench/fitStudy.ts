/**
 * How well the fit of stem and root keeps its word: invented poles from the samples' finite elements, with girth,
 * modulus and density that vary along the stem and planes that are not alike, drawn from the fit's own priors.
 * Bias, width and coverage of 90 % intervals by truth, modes at hand and what hangs on the pole.
 * `node bench/fitStudy.ts [poles for each case, 500] [name of the draw, for other poles]` prints the table and writes docs/studies/fit.md.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { type FitCase, listCases, type PoleDraw, type PoleOutcome, studyPole } from './fitStudy/studyPole.ts';
import { writeTable } from './fitStudy/writeTable.ts';

/** Poles as the fit takes them to be, and a fifth as many that are twice as irregular. */
const ROUGHNESS = [
  { roughness: 1, share: 1 },
  { roughness: 2, share: 0.2 },
];

type Task = { fitCase: FitCase; draw: PoleDraw };

if (isMainThread) await runStudy(Number(process.argv[2] ?? 500), process.argv[3] ?? 'fit study, second draw');
else runShare(workerData as Task[]);

async function runStudy(count: number, study: string): Promise<void> {
  const tasks = listCases().flatMap((fitCase) =>
    ROUGHNESS.flatMap(({ roughness, share }) =>
      Array.from(
        { length: share * count },
        (_, index): Task => ({ fitCase, draw: { study, index, count: share * count, roughness } }),
      ),
    ),
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
  const folder = join(import.meta.dirname, '..', 'docs', 'studies');
  const file = join(folder, 'fit.md');
  const text = writeTable(outcomes, count, existsSync(file) ? readFileSync(file, 'utf8') : '');
  process.stdout.write(`${text}\n${minutes.toFixed(1)} minutes on ${workers} threads\n`);
  mkdirSync(folder, { recursive: true });
  writeFileSync(file, text);
}

function runShare(tasks: readonly Task[]): void {
  for (const { fitCase, draw } of tasks) parentPort!.postMessage(studyPole(fitCase, draw));
}
