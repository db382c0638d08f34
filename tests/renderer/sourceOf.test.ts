import { expect, test } from 'vitest';
import { sourceOf } from '../../renderer/calibration/requirement/sourceOf.ts';

test('figures that were changed and put back are those of their setting again', () => {
  const grade = { name: 'Grade C', source: 'A code.', wind: 1.75, strength: 0.85 };
  const source = (strength: number, wind = 1.75) =>
    sourceOf({ wind, strength }, ['wind', 'strength'], [{ ...grade, name: 'Grade B', wind: 2.5 }, grade]);
  expect(source(0.9)).toBe('By its engineer');
  expect(source(0.85)).toBe('Grade C: A code.');
  expect(source(0.85 + 1e-12)).toBe('Grade C: A code.');
  expect(source(0.85, 2.5)).toBe('Grade B: A code.');
});
