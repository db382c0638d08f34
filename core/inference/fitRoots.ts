import type { Extra, Pick } from './data.ts';
import { fitStemAndRoot, type StemRootPosterior, weighPicks } from './fitStemAndRoot.ts';
import type { FrequencyTable } from './frequencyTable.ts';

/** Posteriors under rival root models with the probability of each, most probable first. */
export type RootMixture = readonly { readonly posterior: StemRootPosterior; readonly probability: number }[];

/** Models less probable are left out of the average. */
const LEAST_PROBABILITY = 0.02;
/** Error in ln evidence that a rough grid is allowed before a model is left out by it. */
const ROUGHNESS = 3;

/**
 * Fits each root model and weighs it by prior times evidence (Bayesian model averaging; Hoeting et al. 1999,
 * Stat. Sci. 14:382, from memory), so that an undecided choice of model widens the result.
 * @param tables - one for each root model that is considered, at least one
 * @param extrasOf - further data with their predictions under one table
 */
export function fitRoots(
  tables: readonly FrequencyTable[],
  picks: readonly Pick[],
  extrasOf: (table: FrequencyTable) => readonly Extra[] = () => [],
): RootMixture {
  const priorOf = (table: FrequencyTable) => Math.log(table.model.rootChance.chance);
  const rough = tables.map((table) => ({
    table,
    logWeight: weighPicks(table, picks, 'rough', extrasOf(table)) + priorOf(table),
  }));
  const best = Math.max(...rough.map((r) => r.logWeight));
  const likely = rough
    .filter((r) => r.logWeight > best + Math.log(LEAST_PROBABILITY) - ROUGHNESS)
    .sort((a, b) => b.logWeight - a.logWeight);
  // rivals are weighed under one likelihood: widened as the best of them asks
  const usual = fitStemAndRoot(likely[0]!.table, picks, extrasOf(likely[0]!.table));
  const fits = likely.map(({ table }, i) => {
    const posterior = i === 0 ? usual : fitStemAndRoot(table, picks, extrasOf(table), usual.widening);
    return { posterior, logWeight: posterior.logEvidence + priorOf(table) };
  });
  const largest = Math.max(...fits.map((fit) => fit.logWeight));
  const weighed = fits.map((fit) => ({ ...fit, weight: Math.exp(fit.logWeight - largest) }));
  const all = weighed.reduce((sum, fit) => sum + fit.weight, 0);
  const kept = weighed.filter((fit) => fit.weight >= LEAST_PROBABILITY * all);
  const total = kept.reduce((sum, fit) => sum + fit.weight, 0);
  return kept
    .map(({ posterior, weight }) => ({ posterior, probability: weight / total }))
    .sort((a, b) => b.probability - a.probability);
}
