import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { findPeaks } from '../../core/modal/index.ts';

const all = { minimumProminence: 0 };
const none = { index: new Int32Array(0), prominence: new Float64Array(0) };

describe('findPeaks', () => {
  test('finds none in fewer than three values or on a slope', () => {
    expect(findPeaks(new Float64Array(0), all)).toEqual(none);
    expect(findPeaks(Float64Array.of(1, 2), all)).toEqual(none);
    expect(findPeaks(Float64Array.of(1, 2, 3, 4), all)).toEqual(none);
  });

  test('gives prominence over the higher valley, by hand', () => {
    // 5 is cut from 7 by the valley of 1; from the left end by 0: 5 - 1. 7 falls to 0 on the left and to 2 on the right.
    expect(findPeaks(Float64Array.of(0, 5, 1, 7, 3, 4, 2), all)).toEqual({
      index: Int32Array.of(1, 3, 5),
      prominence: Float64Array.of(4, 5, 1),
    });
  });

  test('takes the middle of a flat top, and no top that runs to the end', () => {
    expect(findPeaks(Float64Array.of(0, 2, 2, 2, 2, 1), all)).toEqual({
      index: Int32Array.of(2),
      prominence: Float64Array.of(1),
    });
    expect(findPeaks(Float64Array.of(0, 2, 2), all)).toEqual(none);
    expect(findPeaks(Float64Array.of(2, 2, 0), all)).toEqual(none);
  });

  test('lets equal peaks see past each other', () => {
    const peaks = findPeaks(Float64Array.of(0, 3, 1, 3, 0.5), all);
    expect([...peaks.prominence]).toEqual([2.5, 2.5]);
  });

  test('keeps the higher of two peaks that are too near, the later of equal ones', () => {
    const values = Float64Array.of(0, 3, 0, 2, 0, 3, 0, 3, 0);
    const { index } = findPeaks(values, { minimumProminence: 0, minimumDistance: 3 });
    expect([...index]).toEqual([1, 7]);
  });

  test('every prominence is that of a plain walk to higher ground', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 8 }), { minLength: 3, maxLength: 60 }), (list) => {
        const peaks = findPeaks(Float64Array.from(list), all);
        peaks.index.forEach((index, i) => {
          const value = list[index]!;
          const walk = (step: number) => {
            let lowest = value;
            for (let i = index; i >= 0 && i < list.length && list[i]! <= value; i += step)
              lowest = Math.min(lowest, list[i]!);
            return lowest;
          };
          expect(peaks.prominence[i]).toBe(value - Math.max(walk(-1), walk(1)));
        });
      }),
    );
  });
});
