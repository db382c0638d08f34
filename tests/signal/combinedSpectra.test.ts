import { describe, expect, test } from 'vitest';
import {
  combineSpectra,
  computeAmplitudeSpectrum,
  computeMultitaperPsd,
  computeZoomSpectrum,
  spreadLogarithmically,
} from '../../core/signal/index.ts';
import { createNoise } from './makeStrike.ts';

describe('computeZoomSpectrum', () => {
  test('shows a sine between bins at its frequency and amplitude', () => {
    const sampleRateHz = 100;
    const sine = Float64Array.from(
      { length: 1000 },
      (_, i) => 3 * Math.sin((2 * Math.PI * 7.0437 * i) / sampleRateHz),
    );
    const { frequencyHz, amplitude } = computeZoomSpectrum(sine, {
      sampleRateHz,
      fromHz: 6.9,
      toHz: 7.2,
      lines: 3001,
    });
    const peak = amplitude.indexOf(Math.max(...amplitude));
    expect(frequencyHz[peak]).toBeCloseTo(7.0437, 3);
    expect(amplitude[peak]).toBeCloseTo(3, 3);
  });

  test('agrees with the plain spectrum at its bins, 0 Hz and half the rate among them', () => {
    const samples = createNoise(512, 4);
    const plain = computeAmplitudeSpectrum(samples, { sampleRateHz: 512 });
    const zoomed = computeZoomSpectrum(samples, { sampleRateHz: 512, fromHz: 0, toHz: 256, lines: 257 });
    zoomed.amplitude.forEach((value, k) => {
      expect(Math.abs(value - plain.amplitude[k]!)).toBeLessThan(1e-10);
    });
    expect(zoomed.noiseBandwidthHz).toBe(plain.noiseBandwidthHz);
  });

  test.each([
    [-1, 3, 10],
    [3, 3, 10],
    [3, 51, 10],
    [3, 4, 1],
    [Number.NaN, 4, 10],
  ])('refuses %d to %d Hz in %i lines', (fromHz, toHz, lines) => {
    const options = { sampleRateHz: 100, fromHz, toHz, lines };
    expect(() => computeZoomSpectrum(createNoise(50, 1), options)).toThrow(/zoomed range/);
  });
});

describe('computeMultitaperPsd', () => {
  test('white noise is flat at 1 / (rate / 2), with the scatter that its tapers leave', () => {
    const { density, bandwidthHz } = computeMultitaperPsd(createNoise(65_536, 5), {
      sampleRateHz: 1000,
      tapers: 8,
    });
    const inner = density.subarray(20, -20).map((value) => value * 500);
    const mean = inner.reduce((sum, value) => sum + value, 0) / inner.length;
    const variance = inner.reduce((sum, value) => sum + (value - mean) ** 2, 0) / inner.length;
    expect(Math.abs(mean - 1)).toBeLessThan(0.02);
    // 8 tapers: variance 1/8 (Riedel and Sidorenko 1995).
    expect(Math.abs(variance * 8 - 1)).toBeLessThan(0.1);
    expect(bandwidthHz).toBeCloseTo((9 * 1000) / 65_537, 12);
  });
});

describe('combineSpectra', () => {
  test('amplitudes by root mean square, densities by mean', () => {
    const spectra = [Float64Array.of(3, 0), Float64Array.of(4, 2)];
    expect([...combineSpectra(spectra, 'amplitude')]).toEqual([Math.sqrt(12.5), Math.SQRT2]);
    expect([...combineSpectra(spectra, 'density')]).toEqual([3.5, 1]);
  });

  test.each([[[]], [[Float64Array.of(1), Float64Array.of(1, 2)]]])(
    'refuses none and unlike lengths',
    (spectra) => {
      expect(() => combineSpectra(spectra, 'density')).toThrow(/lines; one or more of equal length/);
    },
  );
});

describe('spreadLogarithmically', () => {
  test('a straight density stays straight, and power is kept', () => {
    const density = Float64Array.from({ length: 1001 }, (_, k) => 2 + 0.01 * k);
    const axis = spreadLogarithmically(0.1, 0.5, 80, 300);
    const out = axis.resample(density);
    expect(axis.frequencyHz[0]).toBe(0.5);
    expect(axis.frequencyHz[299]).toBeCloseTo(80, 9);
    out.forEach((value, i) => {
      // The middle of a cell lies above its geometric middle by half the square of its half-width.
      if (i < 299) expect(Math.abs(value / (2 + 0.1 * axis.frequencyHz[i]!) - 1)).toBeLessThan(1e-4);
    });
  });

  test('a line keeps its power in the cell that holds it', () => {
    const density = new Float64Array(1001);
    density[600] = 10;
    const { frequencyHz, resample } = spreadLogarithmically(0.1, 0.5, 100, 20);
    const out = resample(density);
    const at = out.indexOf(Math.max(...out));
    const ratio = frequencyHz[1]! / frequencyHz[0]!;
    const width = frequencyHz[at]! * (Math.sqrt(ratio) - 1 / Math.sqrt(ratio));
    expect(out[at]! * width).toBeCloseTo(10 * 0.1, 9);
  });
});
