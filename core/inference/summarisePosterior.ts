import type { Estimate } from '../assessment.ts';
import { fitStemAndRoot, type StemRootPosterior } from './fitStemAndRoot.ts';
import type { FrequencyTable } from './frequencyTable.ts';
import { estimateFromWeights, mapEstimate, momentsFromWeights } from './quantiles.ts';

export type LogMoments = { readonly mean: number; readonly sd: number };

export type Identifiability = {
  /** 1 - posterior width / prior width of ln E and of ln k_theta, not below 0. */
  readonly stem: number;
  readonly root: number;
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

/** Narrowing of a quantity, by its picks, from which it counts as told (ours). */
const TOLD_FROM = 0.2;
/** A root is soft where it is below what one pole in ten of the same soil and depth would have. */
const SOFT_ROOT_QUANTILE_Z = -1.2816;
const Z_OF_90_PERCENT = 1.6449;

/** Estimates, expectation against finding, and how much the picks told, from a posterior on its grid. */
export function summarisePosterior(posterior: StemRootPosterior): StemRootSummary {
  const prior = fitStemAndRoot(posterior.table, []);
  const after = marginals(posterior);
  const before = marginals(prior);
  const { density } = posterior.table.model;
  const densityLog = {
    value: Math.log(density.median) + posterior.lnDensity.mean,
    reach: Z_OF_90_PERCENT * posterior.lnDensity.sd,
  };
  const expectedStiffness = momentsFromWeights(before.stiffness);
  const softBelow = expectedStiffness.mean + SOFT_ROOT_QUANTILE_Z * expectedStiffness.sd;
  let softRootChance = 0;
  after.stiffness.values.forEach((value, i) => {
    if (value < softBelow) softRootChance += after.stiffness.weights[i]!;
  });
  return {
    modulusPa: mapEstimate(estimateFromWeights(after.modulus), Math.exp),
    lnModulus: momentsFromWeights(after.modulus),
    priorModulusPa: mapEstimate(estimateFromWeights(before.modulus), Math.exp),
    densityKgPerM3: {
      value: Math.exp(densityLog.value),
      low: Math.exp(densityLog.value - densityLog.reach),
      high: Math.exp(densityLog.value + densityLog.reach),
      level: 0.9,
    },
    rotationalStiffnessNmPerRad: mapEstimate(estimateFromWeights(after.stiffness), Math.exp),
    expectedRotationalStiffnessNmPerRad: mapEstimate(estimateFromWeights(before.stiffness), Math.exp),
    fixity: mapEstimate(estimateFromWeights(after.fixity), Math.exp),
    expectedFixity: mapEstimate(estimateFromWeights(before.fixity), Math.exp),
    fixityMapped: mapEstimate(estimateFromWeights(after.fixity), (v) => Math.exp(v) / (1 + Math.exp(v))),
    rootStiffness: mapEstimate(estimateFromWeights(after.rootStiffness), Math.exp),
    softRootChance,
    identifiability: judgeIdentifiability(posterior, after, before),
  };
}

/** ln E, ln k_theta, ln fixity and ln of the root's parameter over the whole grid, with their weights. */
function marginals(posterior: StemRootPosterior) {
  const { lnModulus, x, lnFixity, lnRotationalPerModulus, weights } = posterior;
  const ne = lnModulus.length;
  const over = (value: (i: number, j: number) => number) => ({
    values: weights.map((_, at) => value(Math.floor(at / ne), at % ne)),
    weights,
  });
  return {
    modulus: over((_, j) => lnModulus[j]!),
    stiffness: over((i, j) => lnRotationalPerModulus[i]! + lnModulus[j]!),
    fixity: over((i) => lnFixity[i]!),
    rootStiffness: over((i, j) => x[i]! + lnModulus[j]!),
  };
}

function judgeIdentifiability(
  posterior: StemRootPosterior,
  after: ReturnType<typeof marginals>,
  before: ReturnType<typeof marginals>,
): Identifiability {
  const narrowing = (quantity: 'modulus' | 'stiffness') =>
    Math.max(0, 1 - momentsFromWeights(after[quantity]).sd / momentsFromWeights(before[quantity]).sd);
  const stem = narrowing('modulus');
  const root = narrowing('stiffness');
  const numbers = new Set(posterior.picks.map((pick) => pick.number));
  const advice = adviseNext(posterior.table, numbers);
  if (numbers.size < 2) return { stem, root, verdict: 'not separated', advice };
  if (stem >= TOLD_FROM && root >= TOLD_FROM) return { stem, root, verdict: 'separated', advice: '' };
  if (stem >= TOLD_FROM || root >= TOLD_FROM) return { stem, root, verdict: 'one-sided', advice };
  return { stem, root, verdict: 'not separated', advice };
}

function adviseNext(table: FrequencyTable, numbers: ReadonlySet<number>): string {
  if (!numbers.has(1))
    return 'Mode 1 is missing: strike again with the hand, long and soft, and record 10 s or more.';
  if (!numbers.has(2)) return 'Mode 2 is missing: strike again with the hammer at chest height.';
  if (!numbers.has(3)) return 'Mode 3 would help most: strike again with the hammer, low on the pole.';
  if (table.model.density.logSd > 0.05) {
    return 'The wood’s density would help most: take a core, or weigh and measure a sample.';
  }
  return 'The tip circumference or a static pull would help most.';
}
