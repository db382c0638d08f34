import type { Priors, RootModelName } from '../recording/index.ts';

/** Chance of a root model before any pick, and where it is from. */
export type RootChance = { readonly chance: number; readonly source: string };

/**
 * A pole stands in soil, gives sideways and its butt bends a little: a bedded root is the rule. A short or thick butt in soft
 * soil hardly bends: coupled. Where the ground line is held, by paving, concrete, rock, frost or roots, it hinges there: spring.
 * How many poles stand so nobody has told us; about one in five and one in seven (ours). A root that was held to be
 * improbable needs modes that say much for it, which two or three seldom do, so no share is small.
 */
const ROOT_PRIOR: Readonly<Record<RootModelName, number>> = { bedded: 0.65, coupled: 0.2, spring: 0.15 };

/** Chance of a root model: 1 where the visit asks for one, its own share where it gives some, ours otherwise. */
export function rootPrior(
  root: RootModelName,
  asked: RootModelName | undefined,
  given: Priors['rootModels'],
): RootChance {
  if (asked) return { chance: 1, source: 'asked for in options.root of the visit' };
  if (!given) return { chance: ROOT_PRIOR[root], source: 'a share of poles (ours)' };
  const total = given.bedded + given.coupled + given.spring;
  return { chance: given[root] / total, source: 'given in options.priors of the visit' };
}
