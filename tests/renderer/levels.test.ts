import { describe, expect, test } from 'vitest';
import { layLevels, loudestOf } from '../../renderer/plots/levels.ts';

const values = [
  [-80, -70, -60],
  [-50, -40, -90],
];

describe('levels over time and frequency', () => {
  test('each value stands in the middle of its pixel', () => {
    const levels = { timesS: [1, 1.5, 2], frequenciesHz: [10, 14], values };
    const laid = layLevels('data:', levels, { xref: 'x', yref: 'y3', logarithmic: false });
    expect(laid).toMatchObject({ x: 0.75, sizex: 1.5, y: 16, sizey: 8, yref: 'y3' });
  });

  test('over a logarithmic axis in decades', () => {
    const levels = { timesS: [1, 1.5, 2], frequenciesHz: [1, 100], values };
    const laid = layLevels('data:', levels, { xref: 'x', yref: 'y', logarithmic: true });
    expect(laid).toMatchObject({ y: 3, sizey: 4 });
  });

  test('the loudest is found in any row', () => {
    expect(loudestOf({ timesS: [], frequenciesHz: [], values })).toBe(-40);
  });
});
