/**
 * Spectra against SciPy (Virtanen et al. 2020, Nature Methods 17:261-272), asked at test time: an independent
 * implementation of the transform, the windows, Welch's method and the spectrogram. Agreement: 1e-9 of the
 * largest value, ten times the rounding seen between two transforms of this length.
 */
import { describe, expect, test } from 'vitest';
import { buildLowPassTaps } from '../../core/recording/index.ts';
import {
  buildWindow,
  computeMultitaperPsd,
  computePsd,
  computeSpectrogram,
  transformReal,
  transformZoomed,
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

  test.each([
    { fromHz: 1.5, toHz: 2.5, lines: 301, count: 20_000 },
    { fromHz: 0, toHz: 250, lines: 64, count: 1000 },
    { fromHz: 9, toHz: 11, lines: 5000, count: 700 },
  ])('chirp-z transform from $fromHz to $toHz Hz of $count samples', ({ count, ...range }) => {
    const sampleRateHz = 500;
    const samples = makeSamples(count);
    const job = { kind: 'czt', samples: [...samples], sampleRateHz, ...range };
    const { re, im } = askScipy({ jobs: [job] }).results[0]!;
    const transformed = transformZoomed(samples, {
      start: range.fromHz / sampleRateHz,
      step: (range.toHz - range.fromHz) / (range.lines - 1) / sampleRateHz,
      count: range.lines,
    });
    expectAlike(
      transformed.filter((_, i) => i % 2 === 0),
      re!,
    );
    expectAlike(
      transformed.filter((_, i) => i % 2 === 1),
      im!,
    );
  });

  test('density by sine tapers is the mean of periodograms; by Slepian tapers much the same', () => {
    const sampleRateHz = 1000;
    const samples = makeSamples(50_000);
    const job = { samples: [...samples], sampleRateHz, size: 65_536, tapers: 7 };
    const [sines, slepian] = askScipy({
      jobs: [
        { kind: 'multitaper', ...job },
        { kind: 'slepian', ...job },
      ],
    }).results;
    const { frequencyHz, density } = computeMultitaperPsd(samples, { sampleRateHz, tapers: 7 });
    expectAlike(frequencyHz, sines!.frequencyHz!);
    expectAlike(density, sines!.density!);
    // Another family of tapers over the same band: the same level of noise, line by line only alike.
    const mean = (values: ArrayLike<number>) =>
      Array.from(values).reduce((sum, v) => sum + v, 0) / values.length;
    expect(mean(density) / mean(slepian!.density!)).toBeCloseTo(1, 2);
  });

  test.each([2, 12, 80])('low-pass weights ahead of decimation by %i are those of firwin', (factor) => {
    const taps = buildLowPassTaps(0.8 / factor);
    // The Hann window of SciPy ends in zeros, which are left out here.
    const job = { kind: 'firwin', taps: taps.length + 2, cutOff: 0.8 / factor };
    const wanted = askScipy({ jobs: [job] }).results[0]!.taps!;
    expectAlike(taps, wanted.slice(1, -1));
  });
});
