import type { BreakTestRow, RelationSpec } from '../../../core/strength/index.ts';

/** Modulus and girth at which stress at ground line is easy to state. */
const CIRCUMFERENCE_M = 0.9;

/** A break test of which nothing but what a check is about is known. */
export function makeRow(
  id: string,
  given: Partial<BreakTestRow> & { strengthPa?: number } = {},
): BreakTestRow {
  const { strengthPa = 50e6, ...rest } = given;
  const circumferenceM = rest.circumferenceM ?? CIRCUMFERENCE_M;
  return {
    id,
    poleId: id,
    species: 'red-pine',
    treatment: null,
    modulusPa: null,
    modulusLogSd: null,
    densityKgPerM3: null,
    frequenciesHz: [null, null, null],
    stemLengthM: null,
    circumferenceM,
    fixity: null,
    ageYears: null,
    moisturePercent: null,
    weight: null,
    piece: 'pole',
    modulusOfRupturePa: strengthPa,
    groundlineMomentNm: (strengthPa * circumferenceM ** 3) / (32 * Math.PI ** 2),
    ...rest,
  };
}

/** The plainest relation: ln strength at ground line on ln modulus, least squares. */
export const PLAIN: RelationSpec = {
  response: 'groundlineStress',
  form: 'log-linear',
  predictors: ['modulus'],
  species: 'none',
  treatment: 'none',
  estimator: 'ordinary',
  modulusError: 'ignored',
};
