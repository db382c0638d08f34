/**
 * The simulator behind the samples: finite elements for the pole, modal superposition for the blows.
 * A road of its own: it shares no code with the program's forward model, so that a test of one by the other means something.
 */
export { addModalResponse, type Pulse } from './addModalResponse.ts';
export { computeRootStiffness } from './computeRootStiffness.ts';
export {
  GRAVITY_M_PER_S2,
  type PoleModel,
  type Section,
  SHEAR_OF_WOOD,
} from './poleModel.ts';
export { type PlaneModes, solvePlane } from './solvePlane.ts';
