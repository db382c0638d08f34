import fc from 'fast-check';
import { expect, test } from 'vitest';
import { takeQuantile } from '../../core/signal/takeQuantile.ts';

test('picks what sorting would, and leaves its input alone', () => {
  const values = fc.oneof(
    fc.array(fc.double({ noNaN: true, min: -1e9, max: 1e9 }), { minLength: 1, maxLength: 80 }),
    fc.array(fc.integer({ min: 0, max: 3 }), { minLength: 1, maxLength: 80 }),
  );
  fc.assert(
    fc.property(values, fc.double({ min: 0, max: 1, noNaN: true }), (list, share) => {
      const input = Float64Array.from(list);
      const kept = input.slice();
      const sorted = input.slice().sort();
      // Plus zero and minus zero are one value here.
      expect(takeQuantile(input, share) + 0).toBe(sorted[Math.floor(share * (list.length - 1))]! + 0);
      expect(input).toEqual(kept);
    }),
    { seed: 3, numRuns: 500 },
  );
});
