import { checkVisit, type Priors, type VisitFile } from '../recording/index.ts';

/** Priors to set, and null for those to take back to the tabulated ones; what is left out stays. */
export type PriorChanges = { readonly [Name in keyof Priors]?: Priors[Name] | null };

/**
 * A visit with priors of the user's own. Assessing it is the one road to a result with other priors: they count, are listed and
 * are named in the result just as if the visit file had held them.
 * @param changes - lognormal: `median` in the prior's unit and `logSd`; lengths: `median` and `sd` in m
 * @throws InputError `visit.field` naming the prior that is out of range, with its value
 */
export function overridePriors(visit: VisitFile, changes: PriorChanges): VisitFile {
  const priors = Object.fromEntries(
    Object.entries({ ...visit.options.priors, ...changes }).filter(([, prior]) => prior != null),
  );
  const { priors: _former, ...options } = visit.options;
  const changed = Object.keys(priors).length > 0 ? { ...options, priors } : options;
  return checkVisit({ ...visit, options: changed }, `Visit to pole ${visit.pole.id}`);
}
