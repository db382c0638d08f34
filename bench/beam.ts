/**
 * Four modes of one plane of a pole with shear, masses, a cable and its own weight: time of a solution by the
 * reduced and by the full beam, beside scipy.linalg.eigh on the same matrices in one thread, and the error of
 * the reduced beam over the whole of its ranges. Run: node bench/beam.ts
 *
 * Our time holds assembly of the matrices from E, root, density, masses and springs; SciPy's does not. SciPy is asked
 * for four modes only, as the largest of M against K, which keeps most digits. Each time is the least of many batches.
 */
import { spawnSync } from 'node:child_process';
import {
  type BeamSystem,
  type BeamValues,
  buildBeam,
  createModeSolver,
  type RootForm,
  reduceBeam,
} from '../core/beam/index.ts';
import { createUniform } from '../tests/modal/makeDecay.ts';

const MODES = 4;
const BATCHES = 100;
const BATCH_SIZE = 25;
const TRIALS = 1000;
const LENGTH_M = 8.5;
const DEPTH_M = 1.7;
const MODULUS_PA = 1.05e10;

const ROOTS: { name: string; root: RootForm; rootStiffness: number }[] = [
  { name: 'spring', root: { model: 'spring' }, rootStiffness: 2e6 },
  {
    name: 'coupled',
    root: { model: 'coupled', subgrade: 'linear', settingDepthM: DEPTH_M },
    rootStiffness: 2e7,
  },
  {
    name: 'bedded, linear',
    root: { model: 'bedded', subgrade: 'linear', settingDepthM: DEPTH_M },
    rootStiffness: 2e7,
  },
  {
    name: 'bedded, constant',
    root: { model: 'bedded', subgrade: 'constant', settingDepthM: DEPTH_M },
    rootStiffness: 9e6,
  },
];

/** Values by their places (0 to 1) in the ranges: root over stem 8100 wide, E 2.7, density 1.6, masses 4, cable 20. */
function valuesAt(rootStiffness: number, places: readonly number[]): BeamValues {
  const [root = 0, stem = 0, density = 0, mass = 0, cable = 0] = places;
  const within = (middle: number, factor: number, place: number) => middle * factor ** (place - 0.5);
  const modulusPa = within(MODULUS_PA, 2.7, stem);
  return {
    modulusPa,
    densityKgPerM3: within(620, 1.6, density),
    rootStiffness: (modulusPa / MODULUS_PA) * within(rootStiffness, 8100, root),
    massesKg: Float64Array.from([0.4, 35], (kg) => within(kg, 4, mass)),
    springsNPerM: Float64Array.of(within(1800, 20, cable)),
  };
}

/** Least time of one run in microseconds. */
function timeLeast(run: () => void, batchSize = BATCH_SIZE): number {
  let least = Number.POSITIVE_INFINITY;
  for (let batch = 0; batch < BATCHES; batch++) {
    const started = performance.now();
    for (let i = 0; i < batchSize; i++) run();
    least = Math.min(least, (performance.now() - started) / batchSize);
  }
  return 1000 * least;
}

/** Bytes that one run leaves on the heap: the least of many batches, those with a collection in between left out. */
function bytesPerRun(run: () => void): number {
  const left = Array.from({ length: BATCHES }, () => {
    const before = process.memoryUsage().heapUsed;
    for (let i = 0; i < TRIALS; i++) run();
    return process.memoryUsage().heapUsed - before;
  });
  return Math.min(...left.filter((bytes) => bytes >= 0)) / TRIALS;
}

function assemble(system: BeamSystem, values: BeamValues): { stiffness: number[]; mass: number[] } {
  const n = system.size;
  const squares = (shapes: readonly Float64Array[], factors: Float64Array, at: number) =>
    shapes.reduce((sum, s, k) => sum + factors[k]! * s[Math.floor(at / n)]! * s[at % n]!, 0);
  const entries = Array.from({ length: n * n }, (_, at) => at);
  return {
    stiffness: entries.map(
      (at) =>
        values.modulusPa * system.elastic[at]! +
        values.rootStiffness * system.rootSpring[at]! -
        values.densityKgPerM3 * system.weight[at]! -
        system.massWeights.reduce((sum, weight, k) => sum + values.massesKg[k]! * weight[at]!, 0) +
        squares(system.springShapes, values.springsNPerM, at),
    ),
    mass: entries.map(
      (at) => values.densityKgPerM3 * system.inertia[at]! + squares(system.massShapes, values.massesKg, at),
    ),
  };
}

type ScipyTiming = { microseconds: number; frequenciesHz: number[] };

function askScipy(
  problems: readonly { n: number; stiffness: number[]; mass: number[] }[],
): ScipyTiming[] | null {
  const script = `
import json, sys, time, numpy as np
from scipy.linalg import eigh
out = []
for p in json.load(sys.stdin):
    n = p['n']
    K, M = (np.array(p[k]).reshape(n, n) for k in ('stiffness', 'mass'))
    least = 1e9
    for _ in range(${BATCHES}):
        start = time.perf_counter()
        for _ in range(${BATCH_SIZE}):
            w, v = eigh(M, K, subset_by_index=[n - ${MODES}, n - 1], check_finite=False)
        least = min(least, (time.perf_counter() - start) / ${BATCH_SIZE})
    out.append({'microseconds': 1e6 * least, 'frequenciesHz': list((1 / np.sqrt(w[::-1]) / 2 / np.pi))})
json.dump(out, sys.stdout)`;
  const run = spawnSync('/usr/bin/python3', ['-c', script], {
    input: JSON.stringify(problems),
    encoding: 'utf8',
    env: { ...process.env, OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1' },
  });
  return run.status === 0 ? (JSON.parse(run.stdout) as ScipyTiming[]) : null;
}

for (const { name, root, rootStiffness } of ROOTS) {
  const input = {
    lengthAboveM: LENGTH_M,
    shape: { heightsM: [0, LENGTH_M], diametersM: [0.28, 0.19] },
    root,
    shearFlexibility: 17.8,
    massHeightsM: [2, 6.1],
    springHeightsM: [5.4],
    selfWeight: true,
  };
  const system = buildBeam(input);
  const low = valuesAt(rootStiffness, [0, 0, 0, 0, 0]);
  const high = valuesAt(rootStiffness, [1, 1, 1, 1, 1]);
  const reduced = reduceBeam(system, low, high, MODES);
  const full = createModeSolver(system, MODES);
  const fast = createModeSolver(reduced, MODES);
  const middle = valuesAt(rootStiffness, [0.5, 0.5, 0.5, 0.5, 0.5]);
  const ours = [timeLeast(() => fast.solve(middle)), timeLeast(() => full.solve(middle))];
  const bytes = bytesPerRun(() => fast.solve(middle));
  const buildUs = timeLeast(() => buildBeam(input), 1);
  const reduceUs = timeLeast(() => reduceBeam(system, low, high, MODES), 1);

  const theirs = askScipy([reduced, system].map((s) => ({ n: s.size, ...assemble(s, middle) })));
  for (const [i, label] of ['reduced', 'full'].entries()) {
    const beside = theirs
      ? `; scipy.linalg.eigh ${theirs[i]!.microseconds.toFixed(1)} us, ratio ${(theirs[i]!.microseconds / ours[i]!).toFixed(1)}`
      : '; no SciPy at hand';
    const size = [reduced, system][i]!.size;
    console.log(`${name}, ${label}, ${size} unknowns: ${ours[i]!.toFixed(1)} us${beside}`);
  }

  const worst = new Float64Array(MODES);
  const uniform = createUniform(1);
  for (let trial = 0; trial < TRIALS; trial++) {
    const place = () => (trial % 2 === 0 ? uniform() : Math.round(uniform()));
    const values = valuesAt(rootStiffness, [uniform(), place(), place(), place(), place()]);
    full.solve(values);
    fast.solve(values);
    worst.forEach((w, m) => {
      worst[m] = Math.max(w, Math.abs(fast.frequenciesHz[m]! / full.frequenciesHz[m]! - 1));
    });
  }
  console.log(`  ${bytes.toFixed(0)} bytes allocated in a solution of the reduced beam`);
  console.log(
    `  once for each pole: build ${buildUs.toFixed(0)} us, reduce ${reduceUs.toFixed(0)} us; worst error of modes 1 to ${MODES} in ` +
      `${TRIALS} places of the ranges: ${[...worst].map((w) => w.toExponential(1)).join(', ')}`,
  );
  if (theirs) {
    full.solve(middle);
    const gap = Math.max(...theirs[1]!.frequenciesHz.map((f, m) => Math.abs(f / full.frequenciesHz[m]! - 1)));
    console.log(`  full beam against SciPy on the same matrices: ${gap.toExponential(1)} in frequency`);
  }
}
