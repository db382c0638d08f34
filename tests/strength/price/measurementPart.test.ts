import { describe, expect, it } from 'vitest';
import {
  fitRelation,
  measurementPart,
  measurementsOf,
  readBreakTests,
  relationSpecSchema,
} from '../../../core/strength/index.ts';
import { makeBreakTests } from '../../../samples/breakTests.ts';

const { rows } = readBreakTests(new TextEncoder().encode(makeBreakTests()), 'break-tests.csv');
const measured = rows.map((row) => ({ ...row, modulusLogSd: 0.05 }));

function fitWith(changes: Record<string, unknown>) {
  const spec = relationSpecSchema.parse({
    response: 'modulusOfRupture',
    predictors: ['modulus'],
    species: 'pooled',
    treatment: 'none',
    form: 'log-linear',
    estimator: 'ordinary',
    modulusError: 'acknowledged',
    ...changes,
  });
  return fitRelation(measured, spec);
}

describe('measurementPart', () => {
  it('is the slope times what the measurement leaves open: 1 / (1 / B + 1 / E)', () => {
    const basis = fitWith({});
    const pole = measurementsOf(measured[0]!);
    const part = measurementPart(basis, pole)!;
    const slope = basis.relation.coefficients[basis.relation.terms.indexOf('modulus')]!;
    const between = basis.relation.modulusError!.polesVariance;
    expect(part.visitErrorSd).toBeCloseTo(Math.abs(slope) * 0.05, 12);
    expect(part.measurementSd ** 2).toBeCloseTo(slope ** 2 / (1 / between + 1 / 0.05 ** 2), 12);
    expect(part.measurementSd).toBeLessThan(part.visitErrorSd);
  });

  it('cannot be told where the error is ignored or not stated', () => {
    const pole = measurementsOf(measured[0]!);
    expect(measurementPart(fitWith({ modulusError: 'ignored' }), pole)).toBeNull();
    expect(measurementPart(fitWith({}), { ...pole, modulusPa: null })).toBeNull();
    expect(measurementPart(fitWith({}), { ...pole, modulusPa: { median: 1e10, logSd: 0 } })).toBeNull();
  });
});
