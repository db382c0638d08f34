import { describe, expect, test } from 'vitest';
import { chooseRecordLength, computeResponseLines } from '../../core/modal/responseLines.ts';
import { createNormal } from './makeDecay.ts';

describe('computeResponseLines', () => {
  test.each([256, 1000, 5003])(
    'is the discrete Fourier transform of a record of %i samples, by its definition',
    (count) => {
      const normal = createNormal(count);
      const samples = Float64Array.from({ length: count }, normal);
      const length = chooseRecordLength(count);
      expect(length).toBeLessThanOrEqual(count);
      expect(length).toBeGreaterThan(0.97 * count);
      const { re, im } = computeResponseLines(samples, 1000, 100);
      expect(re.length).toBe(Math.floor((100 * length) / 1000));
      for (const k of [1, 2, 3, re.length]) {
        let wantedRe = 0;
        let wantedIm = 0;
        for (let n = 0; n < length; n++) {
          wantedRe += samples[n]! * Math.cos((2 * Math.PI * ((k * n) % length)) / length);
          wantedIm -= samples[n]! * Math.sin((2 * Math.PI * ((k * n) % length)) / length);
        }
        // rounding grows with the root of the length
        expect(re[k - 1]).toBeCloseTo(wantedRe, 9);
        expect(im[k - 1]).toBeCloseTo(wantedIm, 9);
      }
    },
  );
});
