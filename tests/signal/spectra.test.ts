import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  chooseTransformSize,
  computeAmplitudeSpectrum,
  computePsd,
  computeSpectrogram,
  decimate,
  transformReal,
  WINDOW_KINDS,
} from '../../core/signal/index.ts';
import { createNoise } from './makeStrike.ts';

/** The transform by its definition, for short records. */
function transformSlowly(samples: Float64Array, size: number): Float64Array {
  const out = new Float64Array(size + 2);
  for (let k = 0; k <= size / 2; k++) {
    samples.forEach((value, n) => {
      out[2 * k] = out[2 * k]! + value * Math.cos((2 * Math.PI * k * n) / size);
      out[2 * k + 1] = out[2 * k + 1]! - value * Math.sin((2 * Math.PI * k * n) / size);
    });
  }
  return out;
}

const samplesOf = (most: number) =>
  fc
    .array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: 1, maxLength: most })
    .map((a) => Float64Array.from(a));

describe('transformReal', () => {
  test('agrees with the definition and leaves its input alone', () => {
    fc.assert(
      fc.property(samplesOf(70), (samples) => {
        const kept = samples.slice();
        const size = chooseTransformSize(samples.length);
        const wanted = transformSlowly(samples, size);
        transformReal(samples, size).forEach((value, i) => {
          expect(Math.abs(value - wanted[i]!)).toBeLessThan(1e-8);
        });
        expect(samples).toEqual(kept);
      }),
      { seed: 1, numRuns: 100 },
    );
  });

  test('by hand: an impulse is flat, a constant is one line', () => {
    const impulse = transformReal(Float64Array.of(2), 8);
    expect([...impulse]).toEqual([2, 0, 2, 0, 2, 0, 2, 0, 2, 0].map((value) => expect.closeTo(value, 12)));
    const constant = transformReal(new Float64Array(8).fill(3), 8);
    expect([...constant]).toEqual([24, 0, 0, 0, 0, 0, 0, 0, 0, 0].map((value) => expect.closeTo(value, 12)));
  });

  test.each([0, 4, 12, 100])('refuses size %i', (size) => {
    expect(() => transformReal(new Float64Array(4), size)).toThrow(/power of two/);
  });

  test('a second call does not see the first', () => {
    transformReal(createNoise(64, 1), 64);
    const short = transformReal(Float64Array.of(1), 64);
    expect([...short].filter((_, i) => i % 2 === 0)).toEqual(new Array(33).fill(expect.closeTo(1, 12)));
  });
});

describe('computeAmplitudeSpectrum', () => {
  test.each(WINDOW_KINDS)('a sine on a bin shows its amplitude under %s', (window) => {
    const samples = Float64Array.from(
      { length: 1024 },
      (_, i) => 3 * Math.sin((2 * Math.PI * 100 * i) / 1024 + 0.4),
    );
    const { frequencyHz, amplitude, binHz } = computeAmplitudeSpectrum(samples, {
      sampleRateHz: 512,
      window,
    });
    expect(binHz).toBe(0.5);
    expect(frequencyHz[100]).toBe(50);
    expect(amplitude[100]).toBeCloseTo(3, 9);
  });

  test('a constant shows its value at 0 Hz, and the highest frequency is not doubled', () => {
    const { amplitude } = computeAmplitudeSpectrum(
      Float64Array.from({ length: 64 }, (_, i) => 2 + (-1) ** i),
      {
        sampleRateHz: 64,
        window: 'rectangular',
      },
    );
    expect(amplitude[0]).toBeCloseTo(2, 12);
    expect(amplitude[32]).toBeCloseTo(1, 12);
  });

  test('padding adds lines and keeps the noise bandwidth of the record', () => {
    const samples = createNoise(1000, 3);
    const plain = computeAmplitudeSpectrum(samples, { sampleRateHz: 1000 });
    const dense = computeAmplitudeSpectrum(samples, { sampleRateHz: 1000, minimumResolutionHz: 0.2 });
    expect(dense.binHz).toBeLessThanOrEqual(0.2);
    expect(dense.noiseBandwidthHz).toBeCloseTo(1.5, 9);
    expect(dense.noiseBandwidthHz).toBe(plain.noiseBandwidthHz);
    const step = plain.binHz / dense.binHz;
    expect(dense.amplitude[10 * step]).toBeCloseTo(plain.amplitude[10]!, 12);
  });

  test.each([
    [new Float64Array(0), 1000, /0 samples/],
    [Float64Array.of(1, Number.NaN), 1000, /Sample 1 is NaN/],
    [Float64Array.of(1, 2), 0, /rate is 0 Hz/],
    [Float64Array.of(1, 2), Number.POSITIVE_INFINITY, /rate is Infinity/],
  ])('refuses what it cannot use', (samples, sampleRateHz, message) => {
    expect(() => computeAmplitudeSpectrum(samples, { sampleRateHz })).toThrow(message);
  });
});

describe('power density', () => {
  test('Parseval: the integral is the mean square of the record less its mean', () => {
    fc.assert(
      fc.property(samplesOf(300), (samples) => {
        fc.pre(samples.length > 1);
        const mean = samples.reduce((sum, value) => sum + value, 0) / samples.length;
        const square = samples.reduce((sum, value) => sum + (value - mean) ** 2, 0) / samples.length;
        const { frequencyHz, density } = computePsd(samples, {
          sampleRateHz: 250,
          segmentLength: samples.length,
          window: 'rectangular',
        });
        const integral = density.reduce((sum, value) => sum + value, 0) * frequencyHz[1]!;
        expect(Math.abs(integral - square)).toBeLessThan(1e-9 * Math.max(1, square));
      }),
      { seed: 2, numRuns: 100 },
    );
  });

  test('white noise of unit variance is flat at 1 / (rate / 2)', () => {
    const { density } = computePsd(createNoise(200_000, 5), { sampleRateHz: 1000, segmentLength: 256 });
    const inner = density.subarray(2, -1);
    const mean = inner.reduce((sum, value) => sum + value, 0) / inner.length;
    // 1500 segments: the mean over 126 bins scatters by 0.3 %.
    expect(Math.abs(mean * 500 - 1)).toBeLessThan(0.015);
  });

  test('bins above a limit are left out, the others are the same', () => {
    const samples = createNoise(1000, 4);
    const options = { sampleRateHz: 100, segmentLength: 256 };
    const bins = Math.floor(20 / (100 / 256)) + 1;
    const whole = computeSpectrogram(samples, options);
    const cut = computeSpectrogram(samples, { ...options, maximumHz: 20 });
    expect(cut.frequencyHz).toEqual(whole.frequencyHz.subarray(0, bins));
    const rows = whole.frequencyHz.length;
    cut.timeS.forEach((_, t) => {
      expect(cut.density.subarray(t * bins, (t + 1) * bins)).toEqual(
        whole.density.subarray(t * rows, t * rows + bins),
      );
    });
    const spectrum = computeAmplitudeSpectrum(samples, { sampleRateHz: 100 });
    const low = computeAmplitudeSpectrum(samples, { sampleRateHz: 100, maximumHz: 20 });
    expect(low.amplitude).toEqual(spectrum.amplitude.subarray(0, low.frequencyHz.length));
    expect(low.frequencyHz.at(-1)).toBeLessThanOrEqual(20);
    expect(20 - low.frequencyHz.at(-1)!).toBeLessThan(low.binHz);
    const every = computeAmplitudeSpectrum(samples, { sampleRateHz: 100, maximumHz: 50 });
    expect(every).toEqual(spectrum);
  });

  test('a spectrogram averaged over time is the density by Welch', () => {
    const samples = createNoise(5000, 9);
    const options = { sampleRateHz: 1000, segmentLength: 512, overlap: 384 };
    const { timeS, frequencyHz, density } = computeSpectrogram(samples, options);
    const welch = computePsd(samples, options);
    expect(timeS[0]).toBe(0.256);
    expect(timeS[1]! - timeS[0]!).toBeCloseTo(0.128, 12);
    for (const k of [0, 1, 100, 256]) {
      let sum = 0;
      for (let t = 0; t < timeS.length; t++) sum += density[t * frequencyHz.length + k]!;
      expect(sum / timeS.length).toBeCloseTo(welch.density[k]!, 12);
    }
  });

  test('a segment longer than the record is cut to it', () => {
    const { segments } = computePsd(createNoise(100, 1), { sampleRateHz: 100, segmentLength: 4096 });
    expect(segments).toBe(1);
  });
});

describe('decimate', () => {
  const tone = (frequencyHz: number) =>
    Float64Array.from({ length: 20_000 }, (_, i) => Math.sin((2 * Math.PI * frequencyHz * i) / 10_000));

  test('keeps low tones in place and amplitude', () => {
    const out = decimate(tone(40), 20);
    expect(out).toHaveLength(1000);
    for (let i = 50; i < 950; i++) {
      expect(Math.abs(out[i]! - Math.sin((2 * Math.PI * 40 * i) / 500))).toBeLessThan(0.01);
    }
  });

  test('takes away what would fold', () => {
    const out = decimate(tone(460), 20);
    const largest = out.subarray(50, 950).reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    expect(largest).toBeLessThan(0.01);
  });

  test('a factor of 1 is a copy, a constant stays', () => {
    const samples = createNoise(10, 1);
    const copy = decimate(samples, 1);
    expect(copy).toEqual(samples);
    expect(copy).not.toBe(samples);
    for (const value of decimate(new Float64Array(100).fill(5), 7)) expect(value).toBeCloseTo(5, 12);
  });
});
