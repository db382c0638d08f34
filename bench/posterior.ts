/**
 * Times what stands between picks and a result: the tables of three root models, the numbering of modes, the posterior with
 * model choice, and the answer to a moved pick. Run: node bench/posterior.ts
 */
import { analyseVisit, concludeVisit } from '../core/assess.ts';
import {
  assignModes,
  describePole,
  fitRoots,
  gatherExtras,
  pictureStemRoot,
  rankNextMeasurements,
  rootModelsOf,
  summarisePosterior,
  tabulateFrequencies,
} from '../core/inference/index.ts';
import { readSampleVisit } from './readSampleVisit.ts';

const REPEAT = 15;

function time(name: string, run: () => unknown): void {
  const taken = Array.from({ length: REPEAT }, () => {
    const before = process.cpuUsage();
    const started = performance.now();
    run();
    const { user, system } = process.cpuUsage(before);
    return { wallMs: performance.now() - started, cpuMs: (user + system) / 1000 };
  });
  const ordered = (key: 'wallMs' | 'cpuMs') => taken.map((run) => run[key]).sort((a, b) => a - b);
  const [wall, cpu] = [ordered('wallMs'), ordered('cpuMs')];
  const middle = Math.floor(REPEAT / 2);
  process.stdout.write(
    `${name.padEnd(52)} wall: best ${wall[0]!.toFixed(1)}, median ${wall[middle]!.toFixed(1)} ms; processor: best ${cpu[0]!.toFixed(1)}, median ${cpu[middle]!.toFixed(1)} ms\n`,
  );
}

const input = readSampleVisit('KV-0107');
const analysed = analyseVisit(input);
const { assessment } = concludeVisit(analysed, []);
const { tables, azimuthsDeg, prior } = analysed;
const picks = assessment.modes.map(({ plane, number, frequencyHz }) => ({
  plane,
  number,
  frequencyHz: frequencyHz.value,
  sdHz: frequencyHz.sd,
}));
const numberless = picks.map((pick) => ({ ...pick, fixedNumber: null }));
const mixture = fitRoots(tables, picks);
const summary = summarisePosterior(mixture, prior);

process.stdout.write(
  `${picks.length} picks in ${azimuthsDeg.length} planes, ${tables.length} root models, a cable\n`,
);
time('tables of all root models', () =>
  rootModelsOf(input.visit).map((root) => tabulateFrequencies(describePole(input.visit, root), azimuthsDeg)),
);
time('numbering of modes', () => assignModes(tables[0]!, numberless));
time('posterior with model choice', () => fitRoots(tables, picks, (at) => gatherExtras(at, null, [])));
time('summary', () => summarisePosterior(mixture, prior));
time('picture', () => pictureStemRoot(mixture, summary, null));
time('next measurements', () => rankNextMeasurements(mixture[0]!.posterior, 2));
time('answer to a moved pick, all of the above but tables', () =>
  concludeVisit(analysed, [{ plane: 0, number: 2, frequencyHz: picks[1]!.frequencyHz * 1.01 }]),
);
