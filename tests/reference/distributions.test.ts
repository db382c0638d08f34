/**
 * Student t quantiles by SciPy (scipy.stats.t.ppf), and their limit, the normal's: the distributions that intervals
 * are made with against another library. Agreement to 1e-8 relative.
 */
import normal from '@stdlib/stats-base-dists-normal';
import t from '@stdlib/stats-base-dists-t';
import { expect, it } from 'vitest';
import { estimateOf, fromLognormal } from '../../core/strength/index.ts';
import { readReferenceTable } from './readReferenceTable.ts';

const rows = readReferenceTable('t-quantiles.csv');
const LEVELS = ['0.90', '0.95', '0.975', '0.99', '0.995'];

it.each(rows)('t with $nu degrees of freedom', (row) => {
  for (const level of LEVELS) {
    expect(t.quantile(Number(level), Number(row.nu)) / Number(row[level])).toBeCloseTo(1, 8);
  }
});

it('a million degrees of freedom are all but normal', () => {
  const row = rows.at(-1)!;
  for (const level of LEVELS) expect(normal.quantile(Number(level), 0, 1)).toBeCloseTo(Number(row[level]), 4);
});

it('an interval of 0.9 reaches to the 0.95 quantile on both sides', () => {
  const reach = Number(rows.at(-1)!['0.95']);
  const { low, high } = estimateOf(fromLognormal({ median: 1, logSd: 0.2 }));
  expect(Math.log(high) / 0.2).toBeCloseTo(reach, 4);
  expect(Math.log(low) / 0.2).toBeCloseTo(-reach, 4);
});
