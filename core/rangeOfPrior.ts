import type { PriorDecision } from './decisions.ts';
import { Z_OF_90_PERCENT } from './ninetyPercent.ts';

type RangedPrior = Exclude<PriorDecision['prior'], { name: 'rootModels' }>;

/** Median and 90 % range of a prior as a decision holds it. */
export function rangeOfPrior(prior: RangedPrior): { median: number; low: number; high: number } {
  const { median } = prior;
  if ('sd' in prior) {
    const reach = Z_OF_90_PERCENT * prior.sd;
    return { median, low: median - reach, high: median + reach };
  }
  const factor = Math.exp(Z_OF_90_PERCENT * prior.logSd);
  return { median, low: median / factor, high: median * factor };
}
