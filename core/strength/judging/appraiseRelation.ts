import { FEWEST_OF_A_KIND } from '../relation/describeReach.ts';
import { nameKind, UNNAMED } from '../relation/findBeyond.ts';
import type { FittedRelation } from '../relation/fitRelation.ts';
import { tellsStiffness } from '../relation/predictors.ts';
import { reachOf } from '../relation/reachOf.ts';
import { tellArms, type Weakness } from '../relation/weakness.ts';
import { diagnoseTests } from './diagnoseTests.ts';
import { leaveOneOut } from './leaveOneOut.ts';
import { type PredictiveShare, predictiveShare } from './predictiveShare.ts';
import { type PredictionScore, scorePredictions } from './scorePredictions.ts';

/** What is published where a relation is, and what speaks against it. */
export type Appraisal = {
  readonly tests: number;
  readonly poles: number;
  /** Species of the tests with their poles, most first. */
  readonly species: readonly { readonly level: string; readonly poles: number }[];
  readonly predictive: PredictiveShare;
  /** Of each test by the relation without its pole. */
  readonly score: PredictionScore;
  /** Tests whose moment was taken with the whole arm, though it shortens while the pole bends; null: not on record. */
  readonly armsNotShortened: number | null;
  readonly weaknesses: readonly Weakness[];
};

/** A test without which all fitted values move as far as the median of their own confidence region (Cook 1977; Cook and Weisberg 1982, 3.5; memory). */
const GREAT_DISTANCE = 1;

/**
 * Appraises a relation before it is published or put to use: the one place where its weaknesses are found.
 * @param armsNotShortened - tests whose moment was taken with the whole arm; null: not on record
 */
export function appraiseRelation(fit: FittedRelation, armsNotShortened: number | null): Appraisal {
  const heldOut = leaveOneOut(fit);
  const predictive = predictiveShare(fit.tests, heldOut);
  return {
    tests: fit.tests.length,
    poles: fit.range.poles,
    species: countSpecies(fit),
    predictive,
    score: scorePredictions(heldOut),
    armsNotShortened,
    weaknesses: [
      ...findNoBetter(fit, predictive),
      ...findSofterStronger(fit),
      ...findFewTests(fit),
      ...findRepeated(fit),
      ...findUnnamed(fit),
      ...findKinds(fit),
      ...findBiases(fit, armsNotShortened),
    ],
  };
}

function countSpecies({ rows }: FittedRelation): Appraisal['species'] {
  return [...new Set(rows.map(({ species }) => species))]
    .map((level) => ({
      level: nameKind('species', level),
      poles: new Set(rows.filter(({ species }) => species === level).map(({ poleId }) => poleId)).size,
    }))
    .sort((a, b) => b.poles - a.poles);
}

function findNoBetter({ spec, relation }: FittedRelation, { value, low, high }: PredictiveShare): Weakness[] {
  if (low > 0) return [];
  const percent = (share: number) => `${Math.round(100 * share)} %`;
  // of fewer than three poles there is no interval
  const found = Number.isFinite(low)
    ? `: of the scatter of strengths it foretells ${percent(value)} (90 % interval ${percent(low)} to ${percent(high)}; 0 is the mean, below 0 worse)`
    : ', since it rests on fewer than three poles';
  return [
    {
      id: 'no-better-than-mean',
      text:
        spec.predictors.length === 0 && relation.groups.length === 0
          ? 'The calibration tells the mean of its tests of every pole: nothing that is measured on a pole enters.'
          : `The calibration is not shown to predict better than the mean of its tests${found}. What was measured on a pole may say nothing of its strength.`,
    },
  ];
}

function findSofterStronger({ spec, relation }: FittedRelation): Weakness[] {
  const carriers = spec.predictors.filter(tellsStiffness);
  // two that go together may share a slope between them in any way
  if (carriers.length !== 1 || relation.coefficients[relation.terms.indexOf(carriers[0]!)]! > 0) return [];
  return [
    {
      id: 'softer-is-stronger',
      text: 'By the calibration a softer stem is a stronger one, against all that is known of wood: chance, or a mistake in the tests, made its slope.',
    },
  ];
}

function findFewTests(fit: FittedRelation): Weakness[] {
  const ids = diagnoseTests(fit)
    .tests.filter(({ cooksDistance }) => cooksDistance > GREAT_DISTANCE)
    .map(({ id }) => id);
  if (ids.length === 0) return [];
  return [
    {
      id: 'rests-on-few-tests',
      text: `The calibration rests on ${ids.length === 1 ? 'one test' : 'single tests'} (${ids.join(', ')}): without ${ids.length === 1 ? 'it' : 'each of them'} it would tell something else (Cook’s distance above ${GREAT_DISTANCE}).`,
    },
  ];
}

function findRepeated({ rows, range }: FittedRelation): Weakness[] {
  const testsOf = Map.groupBy(rows, ({ poleId }) => poleId);
  const repeated = [...testsOf.values()].filter(({ length }) => length > 1);
  if (repeated.length === 0) return [];
  const tests = repeated.reduce((sum, { length }) => sum + length, 0);
  return [
    {
      id: 'pole-repeated',
      text:
        `The same pole was broken more than once: ${tests} of ${rows.length} tests, of ${repeated.length} ${repeated.length === 1 ? 'pole' : 'poles'}. ` +
        `The fit takes tests for independent, which those of one pole are not: intervals are narrower than ${range.poles} poles allow.`,
    },
  ];
}

function findUnnamed({ rows }: FittedRelation): Weakness[] {
  const unnamed = rows.filter(({ species }) => species === UNNAMED).length;
  if (unnamed === 0) return [];
  return [
    {
      id: 'few-of-a-kind',
      text:
        `${unnamed} of the ${rows.length} tests name no species that is known here: they may be of any, and count for none. ` +
        'Poles whose species is not named get no capacity.',
    },
  ];
}

function findKinds(fit: FittedRelation): Weakness[] {
  return reachOf(fit).kinds.flatMap(({ factor, level, poles, overstated }): Weakness[] => {
    if (level === UNNAMED && factor === 'species') return [];
    const name = nameKind(factor, level);
    if (poles < FEWEST_OF_A_KIND) {
      return [
        {
          id: 'few-of-a-kind',
          text: `Only ${poles} tested ${poles === 1 ? 'pole is' : 'poles are'} of ${name}: too few to see whether they are weaker. Poles of ${name} get no capacity.`,
        },
      ];
    }
    if (overstated === null) return [];
    return [
      {
        id: 'kind-overstated',
        text: `The tested poles of ${name} came out weaker than the relation tells (t test, one in twenty). Poles of ${name} get no capacity; give each species a level of its own.`,
      },
    ];
  });
}

function findBiases({ spec, range, tests }: FittedRelation, armsNotShortened: number | null): Weakness[] {
  const weaknesses: Weakness[] = [];
  if (armsNotShortened !== null && armsNotShortened > 0) {
    weaknesses.push(tellArms(armsNotShortened, tests.length));
  }
  if (range.piece === 'specimen') {
    weaknesses.push({
      id: 'specimens',
      text: 'The tests broke specimens cut from poles, without the knots and checks of a pole: a pole carries less than this.',
    });
  }
  if (spec.response === 'modulusOfRupture') {
    weaknesses.push({
      id: 'stress-where-it-broke',
      text: 'The tests tell the stress where they broke; a pole that breaks above ground line carries less than this.',
    });
  }
  return weaknesses;
}
