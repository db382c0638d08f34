import normal from '@stdlib/stats-base-dists-normal';
import { InputError } from '../../errors.ts';
import { standardChanceBelow } from '../distribution/chanceBelow.ts';
import type { StrengthDistribution } from '../distribution/strengthDistribution.ts';
import { type Costs, checkCosts } from './judgedTest.ts';

/** A pole as it stands after its visit. */
export type VisitedPole = {
  readonly poleId: string;
  /** Of its strength or capacity, in any unit. */
  readonly capacity: StrengthDistribution;
  /**
   * The part of capacity's spread that the measurement makes, as a standard deviation on the scale of the capacity: what would be
   * left out of it if the stem were known exactly ({@link measurementPart}). At most the whole spread.
   */
  readonly measurementSd: number;
  /** Error of one further visit, on the same scale, above 0. @default measurementSd */
  readonly visitErrorSd?: number;
  /** What it must reach, in the same unit: the decision is about this. */
  readonly limit: number;
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
const ROUNDING = 1e-9;

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
  const { poleId, capacity, measurementSd, visitErrorSd = measurementSd, limit } = pole;
  const limitAt = capacity.scale === 'log' ? Math.log(limit) : limit;
  const gap = limitAt - capacity.centre;
  const chanceNow = standardChanceBelow(capacity)(gap);
  const now = decide(chanceNow, costs);
  const same = {
    poleId,
    chanceBelow: chanceNow,
    action: now.action,
    costNow: now.cost,
    perfectValue: now.cost,
  };
  const shiftSd = measurementSd === 0 ? 0 : measurementSd ** 2 / Math.hypot(measurementSd, visitErrorSd);
  if (shiftSd === 0) return { ...same, costAfter: now.cost, value: 0, chanceOfChange: 0 };

  const parted = partNormal(capacity, measurementSd);
  const remaining = standardChanceBelow({
    ...parted,
    normalSd: Math.sqrt(Math.max(0, parted.normalSd ** 2 - shiftSd ** 2)),
  });
  const chanceAt = (shift: number) => remaining(gap - shift);
  const reach = REACH_SDS * shiftSd;
  const turn = findTurn(chanceAt, costs, reach);
  const density = (shift: number) => normal.pdf(shift, 0, shiftSd);
  const costAfter =
    integrateFrom(turn, reach, (shift) => density(shift) * chanceAt(shift)) * costs.missedWeak +
    integrateFrom(turn, -reach, (shift) => density(shift) * (1 - chanceAt(shift))) *
      costs.needlessReplacement;
  const partedNow = decide(standardChanceBelow(parted)(gap), costs).cost;
  const value = Math.min(now.cost, Math.max(0, partedNow - costAfter));
  const chanceOfReplacing = normal.cdf(turn, 0, shiftSd);
  return {
    ...same,
    costAfter: now.cost - value,
    value,
    chanceOfChange: now.action === 'replace' ? 1 - chanceOfReplacing : chanceOfReplacing,
  };
}

function decide(chance: number, costs: Costs): { action: ValueOfVisit['action']; cost: number } {
  const keep = chance * costs.missedWeak;
  const replace = (1 - chance) * costs.needlessReplacement;
  return replace < keep ? { action: 'replace', cost: replace } : { action: 'keep', cost: keep };
}

/**
 * The same spread with at least the measurement's part in its normal part. A relation that acknowledges the error of the modulus carries it within
 * its Student part; taken out of there, tails are a little lighter, and values are differences under that one spread.
 */
function partNormal(capacity: StrengthDistribution, measurementSd: number): StrengthDistribution {
  const taken = Math.max(0, measurementSd ** 2 - capacity.normalSd ** 2);
  return {
    ...capacity,
    normalSd: Math.max(capacity.normalSd, measurementSd),
    studentScale: Math.sqrt(Math.max(0, capacity.studentScale ** 2 - taken)),
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

function checkPole({ poleId, capacity, measurementSd, visitErrorSd, limit }: VisitedPole): void {
  const spread = Math.hypot(capacity.normalSd, capacity.studentScale);
  const complaint = !(measurementSd >= 0 && measurementSd <= spread * (1 + ROUNDING))
    ? `the measurement's part ${measurementSd} of a spread of ${spread}; 0 to the whole is expected`
    : visitErrorSd !== undefined && !(visitErrorSd > 0 && Number.isFinite(visitErrorSd))
      ? `an error of the second visit of ${visitErrorSd}; a number above 0 is expected`
      : !(limit > 0 && Number.isFinite(limit))
        ? `a limit of ${limit}; a number above 0 is expected`
        : null;
  if (complaint === null) return;
  throw new InputError(
    'price.visit',
    `Pole ${poleId}: ${complaint}.`,
    'Correct the figure, or leave the pole out.',
  );
}
