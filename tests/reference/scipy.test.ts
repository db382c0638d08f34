/**
 * Spectra against SciPy (Virtanen et al. 2020, Nature Methods 17:261-272), asked at test time: an independent
 * implementation of the transform, the windows, Welch's method and the spectrogram. Agreement: 1e-9 of the
 * largest value, ten times the rounding seen between two transforms of this length.
 */
import { describe, expect, test } from 'vitest';
import {
  buildWindow,
  computePsd,
  computeSpectrogram,
  transformReal,
  WINDOW_KINDS,
} from '../../core/signal/index.ts';
import { createNoise } from '../signal/makeStrike.ts';
import { askScipy, hasScipy } from './askScipy.ts';

const AGREEMENT = 1e-9;
const available = hasScipy();
if (!available)
  console.warn(
    'SKIPPED: no SciPy at /usr/bin/python3, so spectra were not held against it (apt-get install python3-scipy).',
  );

function expectAlike(actual: ArrayLike<number>, wanted: readonly number[]): void {
  expect(actual.length).toBe(wanted.length);
  const largest = wanted.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  let worst = 0;
  for (let i = 0; i < wanted.length; i++) worst = Math.max(worst, Math.abs(actual[i]! - wanted[i]!));
  expect(worst).toBeLessThan(AGREEMENT * largest);
}

/** Noise on a slope with an offset: nothing in it is symmetric or has a mean of zero. */
function makeSamples(count: number): Float64Array {
  return createNoise(count, 7).map((value, i) => value + 3 + i / count);
}

describe.skipIf(!available)('SciPy', () => {
  test.each([
    [8, 8],
    [1000, 1024],
    [4096, 4096],
    [50_000, 65_536],
  ])('transform of %i samples at size %i', (count, size) => {
    const samples = makeSamples(count);
    const { re, im } = askScipy({ jobs: [{ kind: 'fft', samples: [...samples], size }] }).results[0]!;
    const transformed = transformReal(samples, size);
    expectAlike(
      transformed.filter((_, i) => i % 2 === 0),
      re!,
    );
    expectAlike(
      transformed.filter((_, i) => i % 2 === 1),
      im!,
    );
  });

  test.each(WINDOW_KINDS)('periodic window %s', (window) => {
    const lengths = [1, 7, 64];
    const { results } = askScipy({ jobs: lengths.map((length) => ({ kind: 'window', window, length })) });
    lengths.forEach((length, i) => {
      expectAlike(buildWindow(window, length), results[i]!.weights!);
    });
  });

  test.each([
    { window: 'hann', segmentLength: 1024, overlap: 512, size: 1024, sampleRateHz: 1000 },
    { window: 'blackman-harris', segmentLength: 500, overlap: 125, size: 512, sampleRateHz: 4000 },
    { window: 'flat-top', segmentLength: 4096, overlap: 0, size: 4096, sampleRateHz: 48_000 },
    { window: 'rectangular', segmentLength: 10_000, overlap: 5000, size: 16_384, sampleRateHz: 2000 },
  ] as const)("Welch's method and spectrogram: $window, $segmentLength", (options) => {
    const samples = makeSamples(10_000);
    const job = { ...options, samples: [...samples] };
    const [welch, gram] = askScipy({
      jobs: [
        { kind: 'welch', ...job },
        { kind: 'spectrogram', ...job },
      ],
    }).results;
    const psd = computePsd(samples, options);
    expectAlike(psd.frequencyHz, welch!.frequencyHz!);
    expectAlike(psd.density, welch!.density!);
    const spectrogram = computeSpectrogram(samples, options);
    expectAlike(spectrogram.timeS, gram!.timeS!);
    expectAlike(spectrogram.frequencyHz, gram!.frequencyHz!);
    expectAlike(spectrogram.density, gram!.density!);
  });
});
