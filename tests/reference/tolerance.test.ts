/**
 * One-sided tolerance factors, the noncentral t distribution behind them, and sums of a normal and a Student t quantity.
 * - Table: k for 95 % of a normal population with 75 % and 95 % confidence, nct.ppf(conf, n - 1, z sqrt(n)) / sqrt(n) of SciPy, five
 *   decimals. The 95/95 column is that of common tables (for instance ISO 16269-6, from memory): 2.911 at n = 10.
 * - SciPy at run time, where it is installed: quantiles of scipy.stats.nct to 1e-7 relative; the sum by numerical integration
 *   of scipy.stats densities (quad) to 1e-8.
 */
import { describe, expect, it } from 'vitest';
import { noncentralTQuantile } from '../../core/strength/distribution/noncentralT.ts';
import { toleranceFactor } from '../../core/strength/distribution/toleranceFactor.ts';
import { chanceBelow } from '../../core/strength/index.ts';
import { askScipy, hasScipy } from './askScipy.ts';
import { readReferenceTable } from './readReferenceTable.ts';

describe('tolerance factors', () => {
  it.each(readReferenceTable('tolerance-k.csv'))('n = $n', (row) => {
    const n = Number(row.n);
    expect(toleranceFactor(1 / n, n - 1)).toBeCloseTo(Number(row.k_5pct_75conf), 5);
    expect(toleranceFactor(1 / n, n - 1, { confidence: 0.95 })).toBeCloseTo(Number(row.k_5pct_95conf), 5);
  });
});

const available = hasScipy();
const ask = (kind: string, cases: readonly (readonly number[])[]) =>
  askScipy({ jobs: [{ kind, cases }] }, './toleranceReference.py').results[0]!.values!;

if (!available) {
  console.warn(
    'SKIPPED: no SciPy at /usr/bin/python3, so tolerance limits were not held against it (apt-get install python3-scipy).',
  );
}

describe.skipIf(!available)('SciPy', () => {
  it('quantiles of the noncentral t', () => {
    const cases = [0.05, 0.5, 0.75, 0.95, 0.999].flatMap((share) =>
      [1, 3, 6, 28, 200].flatMap((nu) =>
        [-2, 0.5, 3, 10, 30].map((delta): [number, number, number] => [share, nu, delta]),
      ),
    );
    const theirs = ask('quantile', cases);
    for (const [i, [share, nu, delta]] of cases.entries()) {
      const ours = noncentralTQuantile(share, nu, delta);
      expect(Math.abs(ours / theirs[i]! - 1), `${share} ${nu} ${delta}: ${ours}, ${theirs[i]}`).toBeLessThan(
        1e-7,
      );
    }
  });

  it('a normal and a Student t quantity together', () => {
    const cases = [3, 6, 28].flatMap((nu) =>
      [0.2, 1, 5].flatMap((sd) => [-6, -2, -0.5, 1.5].map((x): [number, number, number] => [x, sd, nu])),
    );
    const theirs = ask('together', cases);
    for (const [i, [x, normalSd, degreesOfFreedom]] of cases.entries()) {
      const ours = chanceBelow(
        { scale: 'linear', centre: 0, normalSd, studentScale: 1, degreesOfFreedom },
        x,
      );
      expect(Math.abs(ours / theirs[i]! - 1), `${x} ${normalSd} ${degreesOfFreedom}`).toBeLessThan(1e-8);
    }
  });
});
