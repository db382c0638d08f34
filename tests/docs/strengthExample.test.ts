/** The worked example of docs/strength.md: its numbers, worked by hand, against what the program makes of the same tests. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { quantileOf } from '../../core/strength/distribution/quantileOf.ts';
import { toleranceFactor } from '../../core/strength/distribution/toleranceFactor.ts';
import {
  estimateOf,
  fitRelation,
  judgeRelation,
  measurementsOf,
  medianOf,
  predictCapacity,
  predictFromRelation,
} from '../../core/strength/index.ts';
import { makeRow, PLAIN } from '../strength/relation/makeRow.ts';
import { lastDigit, readWorkedTables } from './readWorkedTables.ts';

const ERROR = 0.08;
const POLE = { modulusPa: 12.5e9, modulusLogSd: ERROR };
const rows = readWorkedTables('strength.md', '## A relation by hand');

function work(): Map<string, number> {
  const text = readFileSync(new URL('../../docs/strength.md', import.meta.url), 'utf8');
  const tests = [...text.matchAll(/^\| \d \| ([\d.]+) \| ([\d.]+) \|$/gm)].map(([, gpa, mpa], i) =>
    makeRow(`${i}`, { modulusPa: Number(gpa) * 1e9, modulusLogSd: ERROR, strengthPa: Number(mpa) * 1e6 }),
  );
  const plain = fitRelation(tests, PLAIN);
  const corrected = fitRelation(tests, { ...PLAIN, modulusError: 'acknowledged' });
  const judged = judgeRelation(plain);
  const predict = (row: Parameters<typeof makeRow>[1]) => {
    const answer = predictFromRelation(corrected, { ...measurementsOf(makeRow('pole', row)), isBare: true });
    if (answer.modulusOfRupturePa === null) throw new Error(answer.withheldBecause);
    return answer;
  };
  const alike = predict(POLE);
  const service = predict({ ...POLE, modulusLogSd: 0.2 });
  const capacityOf = ({ modulusOfRupturePa, leverage }: typeof alike) =>
    predictCapacity({
      modulusOfRupturePa,
      leverage,
      groundlineCircumferenceM: 0.88,
      circumferenceLogSd: 0.01,
    });
  const atLine = alike.modulusOfRupturePa;
  const k = toleranceFactor(alike.leverage!, 6);
  const { coefficients, modulusError, residualScale } = corrected.relation;
  const share = modulusError!.polesVariance / (modulusError!.polesVariance + 0.04);
  return new Map([
    ['slope, error ignored', plain.relation.coefficients[1]!],
    ['deviation of one pole', residualScale],
    ['share taken up', judged.rSquared],
    ['leverage of test 1', plain.tests[0]!.leverage],
    ['left out', plain.tests[0]!.response - judged.heldOut[0]!.strengthPa!.centre],
    ['distance of Cook', judged.diagnosis.tests[0]!.cooksDistance],
    ['variance of true ln E', modulusError!.polesVariance],
    ['slope, error acknowledged', coefficients[1]!],
    ['median strength', medianOf(atLine) / 1e6],
    ['leverage of the pole', alike.leverage!],
    ['lower 5 % strength', quantileOf(atLine, 0.05) / 1e6],
    ['tolerance factor', k],
    ['tolerance limit', (medianOf(atLine) * Math.exp(-k * residualScale)) / 1e6],
    ['distance from the tests', distanceByPlain(plain)],
    ['share of the measurement', share],
    [
      'expected modulus',
      Math.exp(
        modulusError!.coefficients[0]! + share * (Math.log(POLE.modulusPa) - modulusError!.coefficients[0]!),
      ) / 1e9,
    ],
    ['median strength in service', medianOf(service.modulusOfRupturePa) / 1e6],
    ['normal part', service.modulusOfRupturePa.normalSd],
    ['Student part', service.modulusOfRupturePa.studentScale],
    ['median capacity', capacityOf(service).groundlineMomentNm.value / 1e3],
    ['lower 5 % capacity', estimateOf(capacityOf(service).moment).low / 1e3],
  ]);
}

function distanceByPlain({ range }: ReturnType<typeof fitRelation>): number {
  const [modulus] = range.predictors;
  return (Math.log(POLE.modulusPa) - modulus!.mean) * Math.sqrt(range.inverseCovariance[0]![0]!);
}

describe('a relation by hand', () => {
  const worked = work();

  test('names each quantity that is repeated', () => {
    expect(rows.map((row) => row.quantity)).toEqual([...worked.keys()]);
  });

  test.each(rows)('$quantity is $printed', ({ quantity, printed }) => {
    expect(Math.abs(worked.get(quantity)! - Number(printed))).toBeLessThan(lastDigit(printed));
  });
});
