/**
 * How the stem is held. `spring`: hinged at ground line with a rotational spring (N m/rad).
 * `coupled`: a rigid butt of the setting depth in soil springs, condensed to ground line, so lateral,
 * cross and rotational stiffness come together. `bedded`: the butt bends in the same soil springs.
 * For these two the root's one parameter is the soil modulus: with `constant` subgrade k in N/m2
 * (force per length per deflection), with `linear` n_h in N/m3 (modulus n_h z at depth z).
 */
export type RootForm = { readonly model: 'spring' } | ButtRoot;

type ButtRoot = {
  readonly model: 'coupled' | 'bedded';
  readonly subgrade: 'constant' | 'linear';
  readonly settingDepthM: number;
};

/**
 * Stiffness of a root at ground line per unit of its parameter, for deflection w and rotation theta = dw/dx there
 * (x upwards): force = lateral w + cross theta, moment = cross w + rotational theta.
 */
export type RootMatrix = { readonly lateral: number; readonly cross: number; readonly rotational: number };

/** A root whose lateral, cross and rotational stiffness stand in given proportions, each times the root's parameter. */
export type GivenRoot = { readonly model: 'matrix' } & RootMatrix;

/**
 * States the ground-line matrix of a root that is one. A rigid butt of depth D at depth z moves by w - theta z, hence
 * per unit soil modulus, constant k: D, -D^2/2, D^3/3; n_h z: D^2/2, -D^3/3, D^4/4 (derived; statics of a rigid
 * body on springs).
 */
export function rootMatrix(root: GivenRoot | ButtRoot): RootMatrix {
  if (root.model === 'matrix') return root;
  const p = root.subgrade === 'constant' ? 0 : 1;
  const depthM = root.settingDepthM;
  return {
    lateral: depthM ** (p + 1) / (p + 1),
    cross: -(depthM ** (p + 2)) / (p + 2),
    rotational: depthM ** (p + 3) / (p + 3),
  };
}
