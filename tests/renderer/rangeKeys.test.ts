import fc from 'fast-check';
import { expect, test } from 'vitest';
import { keepInside, moveByKey } from '../../renderer/plots/rangeKeys.ts';

test('arrow keys move a range by a tenth of it, half with Shift; plus and minus zoom about its middle', () => {
  expect(moveByKey('ArrowRight', false, [10, 20])).toEqual([11, 21]);
  expect(moveByKey('ArrowLeft', true, [10, 20])).toEqual([5, 15]);
  expect(moveByKey('+', false, [0, 30])).toEqual([5, 25]);
  expect(moveByKey('-', false, [5, 25])).toEqual([0, 30]);
  expect(moveByKey('0', false, [5, 25])).toBeNull();
  expect(moveByKey('a', false, [5, 25])).toBeUndefined();
});

test('a range is moved into the whole without changing its width, or becomes the whole', () => {
  expect(keepInside([-2, 3], [0, 60])).toEqual([0, 5]);
  expect(keepInside([58, 63], [0, 60])).toEqual([55, 60]);
  expect(keepInside([-5, 90], [0, 60])).toEqual([0, 60]);
  const number = fc.integer({ min: -1000, max: 1000 });
  fc.assert(
    fc.property(number, fc.integer({ min: 1, max: 59 }), (from, width) => {
      const [a, b] = keepInside([from, from + width], [0, 60]);
      return a >= 0 && b <= 60 && b - a === width;
    }),
  );
});
