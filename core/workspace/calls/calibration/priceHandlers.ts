import { InputError } from '../../../errors.ts';
import { chanceBelow, computeRoc, priceThresholds, readStrengthPa } from '../../../strength/index.ts';
import { findFibreStress } from '../../../wood/index.ts';
import { findCalibrationInForce } from '../../calibration/calibrations.repository.ts';
import { type GatheredTest, gatherTests } from '../../calibration/gatherTests.ts';
import { predictWithoutOwnPole } from '../../calibration/predictWithoutOwnPole.ts';
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
      const limits = listLimits(tests, weakBelow);
      const { predicted, unpredicted } = predictWithoutOwnPole(tests, candidate.spec);
      const unpriced = [...unpredicted];
      const judged = predicted.flatMap(({ test, strengthPa }) => {
        const limit = limits.find(({ species }) => species === test.row.species);
        if (!limit) {
          unpriced.push({
            testId: test.testId,
            reason: `No fibre stress is tabulated for ${test.row.species}; give a stress instead.`,
          });
          return [];
        }
        return {
          poleId: test.row.poleId,
          chanceBelow: chanceBelow(strengthPa, limit.stressPa),
          isWeak: readStrengthPa(test.row, 'groundlineStress') < limit.stressPa,
        };
      });
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
