import { expect, test } from 'vitest';
import { fitRelation, type RelationSpec, readBreakTests } from '../../../core/strength/index.ts';
import { tellFormula } from '../../../core/workspace/calibration/tellFormula.ts';
import { makeBreakTests } from '../../../samples/breakTests.ts';
import { PLAIN } from './calibrationFixture.ts';

const { rows } = readBreakTests(Buffer.from(makeBreakTests()), 'a.csv');
const tell = (change: Partial<RelationSpec>) => {
  const fit = fitRelation(rows, { ...PLAIN, ...change });
  return { ...tellFormula(fit), coefficients: fit.relation.coefficients, means: fit.range.predictors };
};
const round = (value: number) => value.toPrecision(3);

test('a linear relation is told in MPa, by unit of what is measured', () => {
  const { formula, terms, coefficients, means } = tell({ form: 'linear' });
  const [a, b] = coefficients as [number, number];
  const mean = means[0]!.mean;
  expect(formula).toBe(
    `stress at ground line = ${round((a + b * mean) / 1e6)} MPa + ${round(b * 1e3)} MPa per GPa × (modulus of elasticity − ${round(mean / 1e9)} GPa)`,
  );
  expect(terms[1]).toMatchObject({ unit: 'MPa per GPa' });
  // least squares runs through the mean of all
  const [, slope] = terms;
  expect(slope!.low).toBeLessThan(slope!.value);
  const strengths = fitRelation(rows, { ...PLAIN, form: 'linear' }).tests.map(({ response }) => response);
  expect(terms[0]!.value).toBeCloseTo(strengths.reduce((sum, x) => sum + x / 1e6, 0) / strengths.length, 6);
  expect(terms[0]!.high - terms[0]!.low).toBeLessThan(0.2 * terms[0]!.value);
});

test('what has no logarithm taken stands in an exponential; groups are levels', () => {
  const { formula, terms } = tell({ predictors: ['modulus', 'age'], species: 'pooled' });
  expect(formula).toMatch(
    /^stress at ground line = [\d.]+ MPa × \(modulus of elasticity \/ [\d.]+ GPa\)\^[\d.]+ × exp\(−?[\d.]+ per year × \(years in the ground − [\d.]+ years\)\) × level of its species$/,
  );
  expect(terms.map(({ unit }) => unit)).toEqual(['MPa', 'as exponent', 'in exp() per year']);
});
