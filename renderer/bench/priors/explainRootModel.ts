import type { Assessment, RootShares } from '../../types.ts';
import { formatChance } from '../../words/index.ts';
import type { Explanation } from '../provenance/index.ts';
import { sourceOfShares } from './rootShares.ts';

/** How the chance of one root model after the recordings came about. @param before, after - shares of 1 */
export function explainRootModel(
  model: keyof RootShares,
  before: number,
  after: number,
  assessment: Assessment,
): Explanation {
  return {
    title: `Chance of a ${model} root`,
    value: formatChance(after),
    formula:
      'P(model | picks) ∝ P(model) × p(picks | model), the latter averaged over E, the root and all priors',
    inputs: [
      ['chance before', formatChance(before)],
      ['picks', `${assessment.modes.length}`],
      ['models that compete', assessment.root?.models.map(({ model: name }) => name).join(', ') ?? 'none'],
    ],
    source: `Chance before: ${sourceOfShares(assessment)}. Averaging over models: docs/physics.md, "From frequencies to stem and root"`,
  };
}
