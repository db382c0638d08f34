import { describe, expect, test } from 'vitest';
import { fuseEstimates } from '../../core/modal/fuseEstimates.ts';

describe('fuseEstimates', () => {
  test('leaves a single estimate as it is', () => {
    expect(fuseEstimates([{ value: 3, sd: 0.2 }])).toEqual({ value: 3, sd: 0.2 });
  });

  test('weighs by inverse variance where strikes agree', () => {
    // weights 4 and 1: (4 x 1 + 1 x 1.1) / 5, sd 1 / sqrt(5)
    const { value, sd } = fuseEstimates([
      { value: 1, sd: 0.5 },
      { value: 1.1, sd: 1 },
    ]);
    expect(value).toBeCloseTo(1.02, 12);
    expect(sd).toBeCloseTo(1 / Math.sqrt(5), 12);
  });

  test('adds the variance between strikes where they differ, by hand', () => {
    // equal sd 0.1: Q = 2 / 0.01 = 200, between = (200 - 2) / (300 - 30000 / 300) = 0.99; weights all 1, sd sqrt((0.99 + 0.01) / 3)
    const { value, sd } = fuseEstimates([1, 2, 3].map((x) => ({ value: x, sd: 0.1 })));
    expect(value).toBeCloseTo(2, 12);
    expect(sd).toBeCloseTo(Math.sqrt(1 / 3), 12);
  });
});
