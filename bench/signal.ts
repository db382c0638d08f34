/**
 * Times the transform, Welch's method, the spectrogram, peak finding and the parametric method beside SciPy on the same
 * data, one thread each, results into memory at hand on both sides, least of several runs. Run: node bench/signal.ts
 */
import { findPeaks } from '../core/modal/index.ts';
import { computePsd, computeSpectrogram, findStrikes, transformReal } from '../core/signal/index.ts';
import { makeCommonJob, makeDecayJob } from '../tests/modal/makePoleJobs.ts';
import { askScipy, hasScipy } from '../tests/reference/askScipy.ts';
import { createNoise, POLE_MODES, ringPole } from '../tests/signal/makeStrike.ts';

const REPEAT = 25;
const SAMPLE_RATE_HZ = 48_000;
const LONGEST_S = 60;
const TRANSFORM_SIZE = 65_536;
const PEAKS_IN = 1_000_000;

function timeLeast(run: () => unknown): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < REPEAT; i++) {
    const started = performance.now();
    run();
    least = Math.min(least, performance.now() - started);
  }
  return least;
}

const minute = createNoise(LONGEST_S * SAMPLE_RATE_HZ, 1);
const short = minute.slice(0, TRANSFORM_SIZE);
const many = minute.slice(0, PEAKS_IN);
const transformed = new Float64Array(TRANSFORM_SIZE + 2);
const segments = {
  sampleRateHz: SAMPLE_RATE_HZ,
  window: 'hann',
  segmentLength: 8192,
  overlap: 4096,
} as const;
const common = makeCommonJob();
const decay = makeDecayJob();
const tasks = [
  {
    name: `real transform of ${TRANSFORM_SIZE}`,
    run: () => transformReal(short, TRANSFORM_SIZE, transformed),
  },
  { name: 'Welch, 60 s at 48 kHz, segments of 8192', run: () => computePsd(minute, segments) },
  { name: 'spectrogram, 60 s at 48 kHz, segments of 8192', run: () => computeSpectrogram(minute, segments) },
  {
    name: `peaks with prominence in ${PEAKS_IN} values of noise`,
    run: () => findPeaks(many, { minimumProminence: 1 }),
  },
  { name: 'poles common to 12 channels, orders 1 to 16', run: common.run },
  { name: 'pole of one decay, maximum likelihood', run: decay.run },
];
const ours = tasks.map(({ run }) => timeLeast(run));
const theirs = hasScipy()
  ? [
      ...askScipy({
        repeat: REPEAT,
        keep: false,
        jobs: [
          { kind: 'fft', samples: [...short], size: TRANSFORM_SIZE },
          ...['welch', 'spectrogram'].map((kind) => ({
            kind,
            ...segments,
            size: 8192,
            samples: [...minute],
          })),
          { kind: 'peaks', samples: [...many], prominence: 1 },
        ],
      }).seconds,
      ...askScipy({ repeat: REPEAT, jobs: [common.question, decay.question] }, 'polesReference.py').seconds,
    ]
  : null;
tasks.forEach(({ name }, i) => {
  if (theirs === null) {
    console.log(`${name}: ${ours[i]!.toFixed(2)} ms; no SciPy at hand`);
    return;
  }
  const ratio = ours[i]! / (1000 * theirs[i]!);
  console.log(
    `${name}: ${ours[i]!.toFixed(2)} ms; SciPy ${(1000 * theirs[i]!).toFixed(2)} ms, ratio ${ratio.toFixed(2)}: ${ratio <= 1 ? 'met' : 'NOT MET'}`,
  );
});

const blows = [2, 17, 32, 47].map((startS) => ({ startS, contactS: 0.005, force: 2000 }));
const clean = ringPole(POLE_MODES, blows, SAMPLE_RATE_HZ, LONGEST_S);
const channels = [1, 0.8].map((share) => clean.map((value, i) => share * value + 1e-3 * minute[i]!));
console.log(
  `strikes in 60 s of 2 channels at 48 kHz: ${timeLeast(() => findStrikes(channels, SAMPLE_RATE_HZ)).toFixed(0)} ms`,
);
