import { InputError } from '../../../errors.ts';
import {
  chanceBelow,
  computeRoc,
  fitRelation,
  type JudgedTest,
  leaveOneOut,
  priceThresholds,
  type RelationSpec,
  readStrengthPa,
} from '../../../strength/index.ts';
import { findFibreStress } from '../../../wood/index.ts';
import { findCalibrationInForce } from '../../calibration/calibrations.repository.ts';
import { type GatheredTest, gatherTests } from '../../calibration/gatherTests.ts';
import { rankSecondVisits } from '../../calibration/rankSecondVisits.ts';
import type { priceCalls } from '../../contract/calibration/priceCalls.ts';
import type { CallRequest, CallResponse } from '../../contract.ts';
import type { HandlersOf } from '../../handlers.ts';
import type { Store } from '../../store.ts';

type WeakBelow = CallRequest<'calibration.price'>['weakBelow'];
type Limit = CallResponse<'calibration.price'>['limits'][number];

export function createPriceHandlers({ db }: Store): HandlersOf<typeof priceCalls> {
  return {
    'calibration.price': async ({ candidate, leftOut, weakBelow, costs, shareWeak }) => {
      const tests = (await gatherTests(db)).filter(({ testId }) => !leftOut.includes(testId));
      if (candidate.spec.response !== 'groundlineStress') {
        throw new InputError(
          'price.response',
          'A pole is weak or not by the stress at its ground line; this relation predicts the stress where poles broke.',
          'Price a relation whose response is the groundline stress.',
        );
      }
      const limits = listLimits(tests, weakBelow);
      const { judged, unpriced } = judgeTests(tests, candidate.spec, limits);
      if (judged.length === 0) {
        throw new InputError(
          'price.none',
          `None of ${tests.length} tests can be priced. ${unpriced[0]?.reason ?? ''}`,
          'Choose another relation, or say below which stress a pole is weak.',
        );
      }
      const prices = priceThresholds(judged, costs, { shareWeak });
      return { prices, roc: computeRoc(judged), limits, unpriced };
    },
    'calibration.secondVisits': async ({ costs, limit }) => {
      const kept = await findCalibrationInForce(db);
      const { visits, known } = await rankSecondVisits(db, kept, costs);
      return { calibration: kept.label, visits: visits.slice(0, limit), known };
    },
  };
}

type Unpriced = CallResponse<'calibration.price'>['unpriced'][number];

/** Each test with its chance of being weak, by the relation without its pole, and whether it was. */
function judgeTests(
  tests: readonly GatheredTest[],
  spec: RelationSpec,
  limits: readonly Limit[],
): { judged: JudgedTest[]; unpriced: Unpriced[] } {
  const fit = fitRelation(
    tests.map(({ row }) => row),
    spec,
  );
  const heldOut = new Map(leaveOneOut(fit).map((test) => [test.id, test]));
  const unusable = new Map(fit.leftOut.map(({ id, reason }) => [id, reason]));
  const judged: JudgedTest[] = [];
  const unpriced: Unpriced[] = [];
  for (const { testId, row } of tests) {
    const limit = limits.find(({ species }) => species === row.species);
    const test = heldOut.get(row.id);
    if (!limit || !test?.strengthPa) {
      const reason = limit
        ? (unusable.get(row.id) ?? test?.withheldBecause ?? 'The relation cannot speak of it.')
        : `No fibre stress is tabulated for ${row.species}; give a stress instead.`;
      unpriced.push({ testId, reason });
      continue;
    }
    judged.push({
      poleId: row.poleId,
      chanceBelow: chanceBelow(test.strengthPa, limit.stressPa),
      isWeak: readStrengthPa(row, 'groundlineStress') < limit.stressPa,
    });
  }
  return { judged, unpriced };
}

/** Stress at ground line below which a tested pole of each species counts as weak; species without one are left out. */
function listLimits(tests: readonly GatheredTest[], weakBelow: WeakBelow): Limit[] {
  const species = [...new Set(tests.map(({ row }) => row.species))];
  return species.flatMap((name): Limit[] => {
    if (weakBelow.kind === 'stress') {
      return [{ species: name, stressPa: weakBelow.stressPa, source: 'Given by the engineer.' }];
    }
    const stress = findFibreStress(name);
    return stress
      ? [{ species: name, stressPa: weakBelow.factor * stress.meanPa, source: stress.source }]
      : [];
  });
}
