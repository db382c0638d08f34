import { rootRotationalStiffness } from '../beam/index.ts';
import { groundlineSecondMomentM4 } from './describePole.ts';
import type { PoleModel } from './poleModel.ts';
import type { UncertainInput } from './uncertainInputs.ts';

/** ln fixity over x, and what each uncertain input does to ln k_theta and to ln fixity at the same x and E. */
export type RootTable = {
  readonly lnFixity: Float64Array;
  /** rotational[i * inputs.length + k]: change at coarseX[i] for one standard deviation of input k. */
  readonly rotational: Float64Array;
  readonly fixity: Float64Array;
};

/**
 * Tabulates a root's rotational stiffness as fixity.
 * @param x - ln(root stiffness / E)
 * @param coarseX - where the inputs' effects are wanted
 */
export function tabulateRoot(
  model: PoleModel,
  x: Float64Array,
  coarseX: Float64Array,
  inputs: readonly UncertainInput[],
): RootTable {
  const nominal = describeRoot(model);
  const rotational = new Float64Array(coarseX.length * inputs.length);
  const fixity = rotational.slice();
  for (const [k, { geometry, stepSd }] of inputs.entries()) {
    if (!geometry) continue;
    const changed = describeRoot({ ...model, ...geometry });
    for (const [i, at] of coarseX.entries()) {
      const change = changed.lnStiffness(at) - nominal.lnStiffness(at);
      rotational[i * inputs.length + k] = change / stepSd;
      fixity[i * inputs.length + k] = (change - (changed.lnPerFixity - nominal.lnPerFixity)) / stepSd;
    }
  }
  return { lnFixity: x.map((at) => nominal.lnStiffness(at) - nominal.lnPerFixity), rotational, fixity };
}

function describeRoot(model: PoleModel) {
  const stiffnessOf = rootRotationalStiffness(model.root, model.shape, model.shear?.flexibility ?? null);
  return {
    /** Per unit of E. */
    lnStiffness: (x: number) => Math.log(stiffnessOf(1, Math.exp(x))),
    lnPerFixity: Math.log(groundlineSecondMomentM4(model) / (model.lengthM - model.settingDepthM)),
  };
}
