/** The compiled kernel of the transform, against its text and against fft.js, an implementation of its own. */
import fc from 'fast-check';
import FFT from 'fft.js';
import { describe, expect, test } from 'vitest';
import { transformReal } from '../../core/signal/index.ts';
import { PASS_FOUR_BASE64 } from '../../core/signal/kernel/passFourBytes.ts';
import { formatPassFour } from '../../core/signal/kernel/writePassFour.ts';
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

describe('transformReal', () => {
  test('runs the bytes that its kernel text compiles to', async () => {
    const written = (await formatPassFour()).match(/'(.*)'/g)!.map((line) => line.slice(1, -1));
    expect(written.slice(0, -1).join('')).toBe(PASS_FOUR_BASE64);
  });

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
