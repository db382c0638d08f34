/**
 * Times the transform, Welch's method, the spectrogram and peak finding beside SciPy on the same samples, one thread each,
 * least of several runs. Run: node bench/signal.ts
 */
import { findPeaks } from '../core/modal/index.ts';
import { computePsd, computeSpectrogram, findStrikes, transformReal } from '../core/signal/index.ts';
import { askScipy, hasScipy } from '../tests/reference/askScipy.ts';
import { createNoise, POLE_MODES, ringPole } from '../tests/signal/makeStrike.ts';

const REPEAT = 15;
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
];
const ours = tasks.map(({ run }) => timeLeast(run));
const theirs = hasScipy()
  ? askScipy({
      repeat: REPEAT,
      keep: false,
      jobs: [
        { kind: 'fft', samples: [...short], size: TRANSFORM_SIZE },
        ...['welch', 'spectrogram'].map((kind) => ({ kind, ...segments, size: 8192, samples: [...minute] })),
        { kind: 'peaks', samples: [...many], prominence: 1 },
      ],
    }).seconds
  : null;
tasks.forEach(({ name }, i) => {
  const beside =
    theirs === null
      ? 'no SciPy at hand'
      : `SciPy ${(1000 * theirs[i]!).toFixed(2)} ms, ratio ${(ours[i]! / (1000 * theirs[i]!)).toFixed(2)}`;
  console.log(`${name}: ${ours[i]!.toFixed(2)} ms; ${beside}`);
});

const blows = [2, 17, 32, 47].map((startS) => ({ startS, contactS: 0.005, force: 2000 }));
const clean = ringPole(POLE_MODES, blows, SAMPLE_RATE_HZ, LONGEST_S);
const channels = [1, 0.8].map((share) => clean.map((value, i) => share * value + 1e-3 * minute[i]!));
console.log(
  `strikes in 60 s of 2 channels at 48 kHz: ${timeLeast(() => findStrikes(channels, SAMPLE_RATE_HZ)).toFixed(0)} ms`,
);
