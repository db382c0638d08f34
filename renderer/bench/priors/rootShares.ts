import type { Assessment, RootShares } from '../../types.ts';

/** A model of the root, and in words how it takes the pole to stand; the usual first. */
export const ROOT_MODELS: readonly { model: keyof RootShares; words: string }[] = [
  { model: 'bedded', words: 'the butt bends in a bed of soil springs' },
  { model: 'coupled', words: 'a stiff butt turns and shifts in the soil' },
  { model: 'spring', words: 'the pole hinges at ground line on one spring' },
];

/** Shares before any pick that a result was made with, of all that compete 1; those left out have 0. */
export function sharesOf({ priors, root }: Assessment): RootShares {
  const listed = (model: keyof RootShares) =>
    priors.find(({ setBy }) => setBy === `options.priors.rootModels.${model}`)?.median;
  // a model that competes with none is listed without a share
  const alone = ROOT_MODELS.every(({ model }) => listed(model) === undefined) ? root?.model : undefined;
  const share = (model: keyof RootShares) => listed(model) ?? (model === alone ? 1 : 0);
  return { bedded: share('bedded'), coupled: share('coupled'), spring: share('spring') };
}

/** Where the shares of a result are from. */
export function sourceOfShares({ priors }: Assessment): string {
  return (
    priors.find(({ setBy }) => setBy?.startsWith('options.priors.rootModels.'))?.source ??
    'one model alone, as the visit asks'
  );
}

/** Shares brought to a sum of 1. */
export function normalised({ bedded, coupled, spring }: RootShares): RootShares {
  const sum = bedded + coupled + spring;
  return { bedded: bedded / sum, coupled: coupled / sum, spring: spring / sum };
}
