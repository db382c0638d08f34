/**
 * Modal identification side by side: time for one visit, and the error of four ways to
 * read frequency and damping off the same noisy decays. Run: node bench/modal.ts
 */
import {
  computeStabilisation,
  estimateDampingDecay,
  estimateDampingHalfPower,
  identifyModes,
  type StrikeSegment,
} from '../core/modal/index.ts';
import { computeAmplitudeSpectrum } from '../core/signal/index.ts';
import { createNormal, type DecayPart, makeDecay } from '../tests/modal/makeDecay.ts';

const ROUNDS = 21;

function takeMedian(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1]!;
}

function time(run: () => void): number {
  const seconds = Array.from({ length: ROUNDS }, () => {
    const start = performance.now();
    run();
    return (performance.now() - start) / 1000;
  });
  return takeMedian(seconds);
}

/** Two recordings of three strikes, two channels, 8 s at 4 kHz, three modes a plane. */
function makeVisit(): StrikeSegment[] {
  const sampleRateHz = 4000;
  const normal = createNormal(1);
  const frequencies = [
    [2.1, 13, 34],
    [2.15, 13.2, 34.3],
  ];
  const amplitudes = { hammer: [0.05, 2, 3], hand: [0.4, 1, 0.2] };
  return (['hammer', 'hand'] as const).flatMap((exciter) =>
    [0, 1, 2].map((strikeIndex) => ({
      recording: `${exciter}.wav`,
      strikeIndex,
      sampleRateHz,
      channels: frequencies.map((plane) =>
        makeDecay(
          8 * sampleRateHz,
          sampleRateHz,
          plane.map((frequencyHz, m) => ({
            frequencyHz,
            dampingRatio: 0.015,
            amplitude: amplitudes[exciter][m]!,
            phase: m,
          })),
          { sd: 0.01, normal },
        ),
      ),
      azimuthsDeg: [0, 90],
      noiseRms: [0.01, 0.01],
      cornerHz: 0.2,
      exciter,
    })),
  );
}

function benchVisit(): void {
  const strikes = makeVisit();
  const first = time(() => identifyModes(strikes));
  console.log(
    `one visit (6 strikes, 2 channels, 8 s at 4 kHz): ${(1000 * first).toFixed(0)} ms, median of ${ROUNDS}`,
  );
  const diagram = time(() => computeStabilisation(strikes));
  console.log(`its stabilisation diagram: ${(1000 * diagram).toFixed(0)} ms, median of ${ROUNDS}`);
}

type Reading = { frequencyHz: number; dampingRatio: number } | null;

/** Ways to read one mode off one decay. */
const METHODS: Record<string, (samples: Float64Array, sampleRateHz: number, part: DecayPart) => Reading> = {
  'half power on a padded spectrum': (samples, sampleRateHz, part) => {
    const spectrum = computeAmplitudeSpectrum(samples, {
      sampleRateHz,
      window: 'rectangular',
      minimumResolutionHz: part.frequencyHz / 1000,
    });
    return estimateDampingHalfPower(spectrum.frequencyHz, spectrum.amplitude, part.frequencyHz);
  },
  'envelope of the decay': (samples, sampleRateHz, part) => {
    const { frequencyHz, dampingRatio } = estimateDampingDecay(samples, {
      sampleRateHz,
      nearHz: part.frequencyHz,
    });
    return { frequencyHz, dampingRatio: dampingRatio.value };
  },
  'pole of the free decay': (samples, sampleRateHz, part) => {
    const { candidates } = identifyModes(
      [
        {
          recording: '',
          strikeIndex: 0,
          sampleRateHz,
          channels: [samples],
          azimuthsDeg: [0],
          noiseRms: [0],
          cornerHz: null,
          exciter: 'unknown',
        },
      ],
      { minimumHz: part.frequencyHz / 2, maximumHz: 2 * part.frequencyHz },
    );
    const found = candidates[0];
    return found === undefined || !found.accepted
      ? null
      : { frequencyHz: found.frequencyHz.value, dampingRatio: found.dampingRatio.value };
  },
};

function benchErrors(): void {
  const sampleRateHz = 500;
  const parts: DecayPart[] = [
    { frequencyHz: 2.13, dampingRatio: 0.015, amplitude: 1, phase: 0.4 },
    { frequencyHz: 31.7, dampingRatio: 0.012, amplitude: 1, phase: 1.4 },
  ];
  console.log(
    'root mean square error over 100 decays of 8 s, as a share of the truth: frequency, damping, share found',
  );
  for (const part of parts) {
    for (const decibels of [10, 20, 40]) {
      console.log(`  ${part.frequencyHz} Hz, first amplitude ${decibels} dB over the noise`);
      for (const [name, read] of Object.entries(METHODS)) {
        const normal = createNormal(decibels);
        let frequency = 0;
        let damping = 0;
        let found = 0;
        for (let trial = 0; trial < 100; trial++) {
          const samples = makeDecay(8 * sampleRateHz, sampleRateHz, [part], {
            sd: 10 ** (-decibels / 20),
            normal,
          });
          const reading = read(samples, sampleRateHz, part);
          if (reading === null) continue;
          found++;
          frequency += (reading.frequencyHz / part.frequencyHz - 1) ** 2;
          damping += (reading.dampingRatio / part.dampingRatio - 1) ** 2;
        }
        const show = (sum: number) => Math.sqrt(sum / found).toExponential(1);
        console.log(`    ${name.padEnd(34)} ${show(frequency)}  ${show(damping)}  ${found} %`);
      }
    }
  }
}

benchVisit();
benchErrors();
