/** The compiled kernels, against their text; the transform against fft.js, an implementation of its own, the filter against its sum. */
import fc from 'fast-check';
import FFT from 'fft.js';
import { describe, expect, test } from 'vitest';
import { EXTREMES_BASE64 } from '../../core/kernel/extremesBytes.ts';
import { FILTER_BASE64 } from '../../core/kernel/filterBytes.ts';
import { correlateBlock, findExtremes } from '../../core/kernel/index.ts';
import { PASS_FOUR_BASE64 } from '../../core/kernel/passFourBytes.ts';
import { formatKernel } from '../../core/kernel/writeKernels.ts';
import { transformReal } from '../../core/signal/index.ts';
import { createNoise } from './makeStrike.ts';

/** Rounding of either transform grows with the root of the passes: some units of the last digit. */
const AGREEMENT = 1e-14;

function transformByLibrary(samples: Float64Array, size: number): Float64Array {
  const padded = new Float64Array(size);
  padded.set(samples);
  const out = new Float64Array(2 * size);
  new FFT(size).realTransform(out, padded);
  return out.subarray(0, size + 2);
}

describe('kernels', () => {
  test.each([
    ['passFour', PASS_FOUR_BASE64],
    ['filter', FILTER_BASE64],
    ['extremes', EXTREMES_BASE64],
  ] as const)('%s runs the bytes that its text compiles to', async (name, bytes) => {
    const written = (await formatKernel(name)).match(/'(.*)'/g)!.map((line) => line.slice(1, -1));
    expect(written.slice(0, -1).join('')).toBe(bytes);
  });
});

describe('correlateBlock', () => {
  const asSum = (block: Float64Array, taps: Float64Array, step: number, count: number) =>
    Float64Array.from({ length: count }, (_, i) =>
      taps.reduce((sum, weight, j) => sum + weight * block[i * step + j]!, 0),
    );
  const filter = (block: Float64Array, taps: Float64Array, step: number, count: number) => {
    const out = new Float64Array(count);
    correlateBlock(block, taps, step, out);
    return out;
  };

  test('of five samples by three weights, by hand', () => {
    const out = filter(Float64Array.of(1, 2, 4, 8, 16), Float64Array.of(1, 10, 1), 2, 2);
    expect([...out]).toEqual([1 + 20 + 4, 4 + 80 + 16]);
  });

  test('of nothing is nothing', () => {
    expect(filter(new Float64Array(3), Float64Array.of(1, 2, 1), 1, 0)).toHaveLength(0);
  });

  test('is the sum that it stands for, at any length, step and number of outputs', () => {
    const sizes = fc.tuple(
      fc.integer({ min: 0, max: 40 }),
      fc.integer({ min: 1, max: 90 }),
      fc.integer({ min: 1, max: 700 }),
    );
    fc.assert(
      fc.property(sizes, ([reach, step, count]) => {
        const half = createNoise(reach + 1, reach + 7);
        const taps = Float64Array.from({ length: 2 * reach + 1 }, (_, j) => half[Math.abs(j - reach)]!);
        const block = createNoise((count - 1) * step + taps.length, step);
        const wanted = asSum(block, taps, step, count);
        const size = Math.max(...wanted.map(Math.abs), 1);
        filter(block, taps, step, count).forEach((value, i) => {
          expect(Math.abs(value - wanted[i]!)).toBeLessThan(AGREEMENT * size * taps.length);
        });
      }),
      { seed: 12, numRuns: 60 },
    );
  });

  test('is not touched by what was filtered before', () => {
    const taps = Float64Array.of(1, 2, 1);
    const clean = filter(Float64Array.of(1, 2, 3), taps, 1, 1);
    filter(new Float64Array(64).fill(Number.NaN), taps, 1, 62);
    expect(filter(Float64Array.of(1, 2, 3), taps, 1, 1)).toEqual(clean);
  });
});

describe('transformReal', () => {
  test.each([8, 16, 32, 64, 128, 1024, 65_536, 2 ** 21])('size %i as fft.js has it', (size) => {
    const samples = createNoise(size - 3, size);
    const wanted = transformByLibrary(samples, size);
    const largest = wanted.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    const worst = transformReal(samples, size).reduce(
      (most, value, i) => Math.max(most, Math.abs(value - wanted[i]!)),
      0,
    );
    expect(worst).toBeLessThan(AGREEMENT * largest);
  });

  test('sizes asked for in any order leave one another alone', () => {
    const sizes = fc.array(fc.integer({ min: 3, max: 15 }), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(sizes, (powers) => {
        const results = powers.map((power) => transformReal(createNoise(2 ** power, power), 2 ** power));
        powers.forEach((power, i) => {
          expect(results[i]).toEqual(transformReal(createNoise(2 ** power, power), 2 ** power));
        });
      }),
      { seed: 11, numRuns: 30 },
    );
  });

  test('of one sample is flat, by hand', () => {
    const flat = transformReal(Float64Array.of(3), 16);
    flat.forEach((value, i) => {
      expect(value).toBeCloseTo(i % 2 === 0 ? 3 : 0, 14);
    });
  });
});

describe('findExtremes', () => {
  test('of pairs and of odd numbers of samples, by hand', () => {
    const samples = Float64Array.of(1, -3, 2, 0.5, 0.25, -0.75, -2, 2, -1);
    const threes = new Float32Array(3);
    findExtremes(samples, 3, threes);
    expect([...threes]).toEqual([-3, -0.75, -2]);
    const twos = new Float32Array(5);
    findExtremes(samples, 2, twos);
    expect([...twos]).toEqual([-3, 2, -0.75, -2, -1]);
  });

  test('is the sample furthest from zero, at any step and where samples end early', () => {
    const sizes = fc.tuple(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 0, max: 500 }));
    fc.assert(
      fc.property(sizes, ([step, count]) => {
        const samples = createNoise(count, step + 1);
        const out = new Float32Array(Math.ceil(count / step) + 1);
        findExtremes(samples, step, out);
        for (const [i, extreme] of out.entries()) {
          const own = [...samples.subarray(i * step, (i + 1) * step)];
          const furthest = own.reduce((most, value) => (Math.abs(value) > Math.abs(most) ? value : most), 0);
          expect(extreme).toBe(Math.fround(furthest));
        }
      }),
      { seed: 13, numRuns: 100 },
    );
  });
});
