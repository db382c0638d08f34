import type { BeamSystem } from './buildBeam.ts';
import { addSquare, type BeamValues, quadraticForm } from './modeSolver.ts';
import { gaussLegendre } from './quadrature.ts';
import { breakHeights } from './sampleFunctions.ts';
import { areaM2, diameterAtM, secondMomentM4 } from './stemShape.ts';

/** First-order changes of ln f of a mode per unit of a field along the pole. */
export type FieldEnergies = {
  /** Bending stiffness departs from its mean by the field. */
  readonly stiffness: (shape: Float64Array, values: BeamValues) => number;
  /** Mass departs from its mean by the field. */
  readonly mass: (shape: Float64Array, values: BeamValues, frequencyHz: number) => number;
};

/** Points between two breaks: fields of a few waves times the energies of modes 1 to 4. */
const QUADRATURE_POINTS = 12;

/**
 * Weighs the bending and kinetic energies of a mode by fields along the pole: what stem stiffness or mass that
 * departs by a field from its mean does to ln f, 1/2 (int field E I w''^2 - omega^2 int field rho A w^2) for shapes
 * with a' K a = 1 (Rayleigh, first order). Shear, rotary inertia and the weight, which hold a few per cent of the energies, are left out.
 * @param fields - relative departures at a height in m above ground line (negative: below), at most a few tenths
 * @returns one for each field
 */
export function weighEnergies(
  system: BeamSystem,
  fields: readonly ((heightM: number) => number)[],
): FieldEnergies[] {
  const n = system.size;
  const bending = fields.map(() => new Float64Array(n * n));
  const inertia = fields.map(() => new Float64Array(n * n));
  const rule = gaussLegendre(QUADRATURE_POINTS);
  const heights = breakHeights(system.input);
  for (let b = 0; b + 1 < heights.length; b++) {
    const span = heights[b + 1]! - heights[b]!;
    for (let q = 0; q < QUADRATURE_POINTS; q++) {
      const heightM = heights[b]! + span * rule.nodes[q]!;
      const curvature = system.curvatureShape(heightM);
      const deflection = system.deflectionShape(heightM);
      const diameterM = diameterAtM(system.input.shape, heightM);
      for (const [f, field] of fields.entries()) {
        const weight = span * rule.weights[q]! * field(heightM);
        addSquare(bending[f]!, curvature, weight * secondMomentM4(diameterM));
        addSquare(inertia[f]!, deflection, weight * areaM2(diameterM));
      }
    }
  }
  return fields.map((_, f) => ({
    stiffness: (shape, { modulusPa }) => (modulusPa * quadraticForm(n, bending[f]!, shape)) / 2,
    mass: (shape, { densityKgPerM3 }, frequencyHz) =>
      -((2 * Math.PI * frequencyHz) ** 2 * densityKgPerM3 * quadraticForm(n, inertia[f]!, shape)) / 2,
  }));
}
