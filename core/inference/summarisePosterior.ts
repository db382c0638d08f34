import type { Estimate } from '../assessment.ts';
import { Z_OF_90_PERCENT } from '../ninetyPercent.ts';
import type { RootMixture } from './fitRoots.ts';
import { ODD_FROM, type StemRootPosterior } from './fitStemAndRoot.ts';
import type { FrequencyTable } from './frequencyTable.ts';
import type { GridQuantity } from './listGridValues.ts';
import {
  binQuantity,
  type Distribution,
  estimateFrom,
  mapEstimate,
  momentsOf,
  shareBelow,
} from './quantiles.ts';

export type LogMoments = { readonly mean: number; readonly sd: number };

export type Identifiability = {
  /** 1 - posterior width / prior width of ln E and of ln k_theta, not below 0. */
  readonly stem: number;
  readonly root: number;
  /** Whether the stem's modulus is told by the data, or known well by other ways. */
  readonly stemTold: boolean;
  readonly rootTold: boolean;
  readonly verdict: 'separated' | 'one-sided' | 'not separated';
  readonly advice: string;
};

export type StemRootSummary = {
  readonly modulusPa: Estimate;
  readonly lnModulus: LogMoments;
  readonly priorModulusPa: Estimate;
  readonly densityKgPerM3: Estimate;
  readonly rotationalStiffnessNmPerRad: Estimate;
  readonly expectedRotationalStiffnessNmPerRad: Estimate;
  readonly fixity: Estimate;
  readonly expectedFixity: Estimate;
  readonly fixityMapped: Estimate;
  /** The root's own parameter: soil modulus of `coupled` and `bedded`. */
  readonly rootStiffness: Estimate;
  readonly softRootChance: number;
  readonly identifiability: Identifiability;
};

/** Modes of different numbers and further data together, those that are odd left out, below which stem and root cannot be told apart. */
const FEWEST_DATA = 2;
/** Narrowing of a quantity, by its picks, from which it counts as told (ours). */
const TOLD_FROM = 0.2;
/** Or known this well, in ln, whoever told it (ours). */
const STEM_KNOWN_SD = 0.12;
const ROOT_KNOWN_SD = 0.3;
/** Wider than this, in ln, a quantity is not told however wide it was before: it is bounded on one side at best (ours). */
const STEM_TOLD_SD = 0.25;
const ROOT_TOLD_SD = 0.6;
/** A rival root with this chance is not ruled out: that of the least probable before any mode is seen. It makes another stem where they differ by more, in ln (ours). */
const OPEN_PROBABILITY = 0.15;
const SAME_STEM_LOG_DISTANCE = 0.1;
/** A root is soft where it is below what one pole in ten of the same soil and depth would have. */
const SOFT_ROOT_QUANTILE_Z = -1.2816;

/** What makes a mode ring, by its number. */
const HOW_TO_STRIKE: Readonly<Record<number, string>> = {
  1: 'with the hand, long and soft, and record 10 s or more',
  2: 'with the hammer at chest height',
};

/**
 * Estimates, expectation against finding, and how much the picks told, from posteriors under one or more root models.
 * @param mixture - given the picks
 * @param prior - the same models without picks
 * @param refused - numbers of modes that were found and that an analyst refused
 */
export function summarisePosterior(
  mixture: RootMixture,
  prior: RootMixture,
  refused: ReadonlySet<number> = new Set(),
): StemRootSummary {
  const after = marginals(mixture);
  const before = marginals(prior);
  const expected = momentsOf(before.stiffness);
  const softBelow = expected.mean + SOFT_ROOT_QUANTILE_Z * expected.sd;
  return {
    modulusPa: mapEstimate(estimateFrom(after.modulus), Math.exp),
    lnModulus: momentsOf(after.modulus),
    priorModulusPa: mapEstimate(estimateFrom(before.modulus), Math.exp),
    densityKgPerM3: estimateDensity(mixture),
    rotationalStiffnessNmPerRad: mapEstimate(estimateFrom(after.stiffness), Math.exp),
    expectedRotationalStiffnessNmPerRad: mapEstimate(estimateFrom(before.stiffness), Math.exp),
    fixity: mapEstimate(estimateFrom(after.fixity), Math.exp),
    expectedFixity: mapEstimate(estimateFrom(before.fixity), Math.exp),
    fixityMapped: mapEstimate(estimateFrom(after.fixity), (v) => Math.exp(v) / (1 + Math.exp(v))),
    rootStiffness: mapEstimate(estimateFrom(after.rootStiffness), Math.exp),
    softRootChance: shareBelow(after.stiffness, softBelow),
    identifiability: judgeIdentifiability(mixture, after, before, refused),
  };
}

type Marginals = Readonly<Record<'modulus' | 'stiffness' | 'fixity' | 'rootStiffness', Distribution>>;

/** The prior's stay as they are while picks change. */
const kept = new WeakMap<RootMixture, Marginals>();

/** Distributions of ln E, ln k_theta and ln fixity over all models, and of ln of the likeliest root's own parameter. */
function marginals(mixture: RootMixture): Marginals {
  const known = kept.get(mixture);
  if (known) return known;
  const over = (
    parts: RootMixture,
    quantityOf: (posterior: StemRootPosterior) => Pick<GridQuantity, 'perX' | 'perModulus' | 'shift'>,
  ): Distribution =>
    binQuantity(
      parts.map(({ posterior, probability }) => ({
        ...quantityOf(posterior),
        weights: posterior.weights,
        rows: posterior.x.length,
        probability,
      })),
    );
  const likeliest = [{ posterior: mixture[0]!.posterior, probability: 1 }];
  const found: Marginals = {
    modulus: over(mixture, (p) => ({ perX: null, perModulus: p.lnModulus, shift: null })),
    stiffness: over(mixture, (p) => ({
      perX: p.lnRotationalPerModulus,
      perModulus: p.lnModulus,
      shift: p.rotationalShift,
    })),
    fixity: over(mixture, (p) => ({ perX: p.lnFixity, perModulus: null, shift: p.fixityShift })),
    rootStiffness: over(likeliest, (p) => ({ perX: p.x, perModulus: p.lnModulus, shift: null })),
  };
  kept.set(mixture, found);
  return found;
}

function estimateDensity(mixture: RootMixture): Estimate {
  const { table, lnDensity } = mixture[0]!.posterior;
  const median = Math.log(table.model.density.median) + lnDensity.mean;
  const reach = Z_OF_90_PERCENT * lnDensity.sd;
  return {
    value: Math.exp(median),
    low: Math.exp(median - reach),
    high: Math.exp(median + reach),
    level: 0.9,
  };
}

function judgeIdentifiability(
  mixture: RootMixture,
  after: Marginals,
  before: Marginals,
  refused: ReadonlySet<number>,
): Identifiability {
  const narrowing = (quantity: 'modulus' | 'stiffness') =>
    Math.max(0, 1 - momentsOf(after[quantity]).sd / momentsOf(before[quantity]).sd);
  const stem = narrowing('modulus');
  const root = narrowing('stiffness');
  const { table, picks, extras, results } = mixture[0]!.posterior;
  const numbers = new Set(picks.map((pick) => pick.number));
  const sound = [...picks.map(({ number }) => number), ...extras].filter(
    (_, i) => results[i]!.oddChance <= ODD_FROM,
  );
  const stemSd = momentsOf(after.modulus).sd;
  const rootSd = momentsOf(after.stiffness).sd;
  const isEnough = new Set(sound).size >= FEWEST_DATA;
  const stemTold = isEnough && (stemSd <= STEM_KNOWN_SD || (stem >= TOLD_FROM && stemSd <= STEM_TOLD_SD));
  const rootTold = isEnough && (rootSd <= ROOT_KNOWN_SD || (root >= TOLD_FROM && rootSd <= ROOT_TOLD_SD));
  const openRoot = findOpenRoot(mixture);
  const told = { stem, root, stemTold, rootTold };
  if (stemTold && rootTold && !openRoot) return { ...told, verdict: 'separated', advice: '' };
  const advice = adviseNext(table, numbers, refused);
  if (!stemTold && !rootTold) return { ...told, verdict: 'not separated', advice };
  return { ...told, verdict: 'one-sided', advice: openRoot ? `${openRoot} ${advice}` : advice };
}

/** What two root models make of a stem, where the data leave the choice open and the stem hangs on it. */
function findOpenRoot(mixture: RootMixture): string | null {
  const [best, ...rivals] = mixture.map(({ posterior, probability }) => ({
    name: posterior.table.model.root.model,
    probability,
    lnModulus: meanLnModulus(posterior),
  }));
  const rival = rivals.find(
    ({ probability, lnModulus }) =>
      probability >= OPEN_PROBABILITY && Math.abs(lnModulus - best!.lnModulus) > SAME_STEM_LOG_DISTANCE,
  );
  if (!rival) return null;
  const inGPa = (lnModulus: number) => `${(Math.exp(lnModulus) / 1e9).toFixed(1)} GPa`;
  return (
    `The modes leave open how the pole is held: a ${best!.name} root makes the stem ${inGPa(best!.lnModulus)}, ` +
    `a ${rival.name} root ${inGPa(rival.lnModulus)}. Say which it is if you know: is the ground line held by paving, concrete or rock?`
  );
}

function meanLnModulus({ lnModulus, weights }: StemRootPosterior): number {
  let sum = 0;
  for (let at = 0; at < weights.length; at++) sum += weights[at]! * lnModulus[at % lnModulus.length]!;
  return sum;
}

function adviseNext(
  table: FrequencyTable,
  numbers: ReadonlySet<number>,
  refused: ReadonlySet<number>,
): string {
  const absent = [1, 2].find((number) => !numbers.has(number));
  if (absent !== undefined) {
    return refused.has(absent)
      ? `Mode ${absent} was refused by an analyst: take that back, or strike again ${HOW_TO_STRIKE[absent]}.`
      : `Mode ${absent} is missing: strike again ${HOW_TO_STRIKE[absent]}.`;
  }
  if (!numbers.has(3)) return 'Mode 3 would help most: strike again with the hammer, low on the pole.';
  if (table.model.density.logSd > 0.05) {
    return 'The wood’s density would help most: take a core, or weigh and measure a sample.';
  }
  return 'The tip circumference or a static pull would help most.';
}
