import normal from '@stdlib/stats-base-dists-normal';
import { InputError } from '../../errors.ts';
import { standardChanceBelow } from '../distribution/chanceBelow.ts';
import type { StrengthDistribution } from '../distribution/strengthDistribution.ts';
import { type Costs, checkCosts } from './judgedTest.ts';

/** A pole as it stands after its visit. */
export type VisitedPole = {
  readonly poleId: string;
  /** Bending capacity, in N m. */
  readonly capacity: StrengthDistribution;
  /**
   * The part of capacity's spread that the measurement makes, as a standard deviation on the scale of the capacity: what would be
   * left out of it if the stem were known exactly. At most `capacity.normalSd`.
   */
  readonly measurementSd: number;
  /** Error of one further visit, on the same scale, above 0. @default measurementSd */
  readonly visitErrorSd?: number;
  /** What the pole must carry, in N m: the moment that the decision is about. */
  readonly requiredMomentNm: number;
};

export type ValueOfVisit = {
  readonly poleId: string;
  readonly chanceBelow: number;
  /** What costs less now. */
  readonly action: 'replace' | 'keep';
  /** Expected cost of it, beyond that of the right decision. */
  readonly costNow: number;
  /** Expected cost after a second visit, decided anew. */
  readonly costAfter: number;
  /** What the second visit is worth before it is made: send a crew where that exceeds the cost of the visit. */
  readonly value: number;
  /** What knowing the capacity exactly would be worth: no visit is worth more. */
  readonly perfectValue: number;
  /** Chance that the second visit turns the decision. */
  readonly chanceOfChange: number;
};

const REACH_SDS = 8;
/** Even; steps of a side. Against bivariate normal probabilities the error is below 1e-8 of the costs (tests). */
const STEPS = 256;
const HALVINGS = 60;

/**
 * Computes what a second, independent visit to each pole is worth: expected cost of the best decision now, less its expectation over what
 * the second visit may bring.
 * Now: min(p a, (1 - p) b), with p the chance below the requirement, a the cost of a missed weak pole, b of a needless replacement. A second
 * measurement with error v moves the centre of capacity by a normal shift of variance m^4 / (m^2 + v^2), m the measurement's part, and narrows
 * capacity by as much; p is computed anew at each shift. Only the measurement's part can be narrowed: the scatter of poles about the relation
 * stays, however often a pole is visited.
 * Source: preposterior analysis, Raiffa and Schlaifer 1961, Applied Statistical Decision Theory, chapters 4 and 5 (from memory); the shift is
 * that of the normal process with known variance.
 * Assumes errors of both visits independent: what the same sensor, model or species table gets wrong twice is not mended by going again.
 * @returns in the order given
 * @throws InputError `price.cost`, `price.visit`
 */
export function valueOfSecondVisit(poles: readonly VisitedPole[], costs: Costs): ValueOfVisit[] {
  checkCosts(costs);
  return poles.map((pole) => valueVisit(pole, costs));
}

function valueVisit(pole: VisitedPole, costs: Costs): ValueOfVisit {
  checkPole(pole);
  const { poleId, capacity, measurementSd, visitErrorSd = measurementSd, requiredMomentNm } = pole;
  const requiredAt = capacity.scale === 'log' ? Math.log(requiredMomentNm) : requiredMomentNm;
  const gap = requiredAt - capacity.centre;
  const chanceNow = standardChanceBelow(capacity)(gap);
  const costKeep = chanceNow * costs.missedWeak;
  const costReplace = (1 - chanceNow) * costs.needlessReplacement;
  const action = costReplace < costKeep ? 'replace' : 'keep';
  const costNow = Math.min(costKeep, costReplace);
  const shiftSd = measurementSd === 0 ? 0 : measurementSd ** 2 / Math.hypot(measurementSd, visitErrorSd);
  const same = { poleId, chanceBelow: chanceNow, action, costNow, perfectValue: costNow } as const;
  if (shiftSd === 0) return { ...same, costAfter: costNow, value: 0, chanceOfChange: 0 };

  const remainingSd = Math.sqrt(Math.max(0, capacity.normalSd ** 2 - shiftSd ** 2));
  const remaining = standardChanceBelow({ ...capacity, normalSd: remainingSd });
  const chanceAt = (shift: number) => remaining(gap - shift);
  const turn = findTurn(chanceAt, costs, REACH_SDS * shiftSd);
  const density = (shift: number) => normal.pdf(shift, 0, shiftSd);
  const reach = REACH_SDS * shiftSd;
  const costAfter =
    integrateFrom(turn, reach, (shift) => density(shift) * chanceAt(shift)) * costs.missedWeak +
    integrateFrom(turn, -reach, (shift) => density(shift) * (1 - chanceAt(shift))) *
      costs.needlessReplacement;
  const chanceOfReplacing = normal.cdf(turn, 0, shiftSd);
  return {
    ...same,
    costAfter: Math.min(costAfter, costNow),
    value: Math.max(0, costNow - costAfter),
    chanceOfChange: action === 'replace' ? 1 - chanceOfReplacing : chanceOfReplacing,
  };
}

/** The shift at which both decisions cost the same: below it the pole is replaced. Held within the reach. */
function findTurn(chanceAt: (shift: number) => number, costs: Costs, reach: number): number {
  const turnChance = costs.needlessReplacement / (costs.needlessReplacement + costs.missedWeak);
  let low = -reach;
  let high = reach;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (chanceAt(middle) > turnChance) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Integral between two places, positive either way, by Simpson's rule with steps that widen away from `from`, where the integrand may be steep. */
function integrateFrom(from: number, to: number, integrand: (x: number) => number): number {
  const width = to - from;
  let sum = 0;
  for (let i = 0; i <= STEPS; i++) {
    const t = i / STEPS;
    const weight = i === 0 || i === STEPS ? 1 : i % 2 === 1 ? 4 : 2;
    // x = from + width t^3, dx = 3 width t^2 dt
    sum += weight * integrand(from + width * t ** 3) * 3 * t ** 2;
  }
  return Math.abs((sum * width) / (3 * STEPS));
}

function checkPole({ poleId, capacity, measurementSd, visitErrorSd, requiredMomentNm }: VisitedPole): void {
  const complaint = !(measurementSd >= 0 && measurementSd <= capacity.normalSd * (1 + 1e-9))
    ? `the measurement's part ${measurementSd} of a spread of ${capacity.normalSd}; 0 to the whole is expected`
    : visitErrorSd !== undefined && !(visitErrorSd > 0 && Number.isFinite(visitErrorSd))
      ? `an error of the second visit of ${visitErrorSd}; a number above 0 is expected`
      : !(requiredMomentNm > 0 && Number.isFinite(requiredMomentNm))
        ? `a requirement of ${requiredMomentNm} N m; a moment above 0 is expected`
        : null;
  if (complaint === null) return;
  throw new InputError(
    'price.visit',
    `Pole ${poleId}: ${complaint}.`,
    'Correct the figure, or leave the pole out.',
  );
}
