import { type BeamInput, type BeamSystem, type BeamValues, buildBeam } from '../beam/index.ts';
import type { PoleModel } from './poleModel.ts';

/** Cables push back across themselves by their tension: a small share of the stiffness along (ours). */
const ACROSS_SHARE = 0.03;

/** The beam of a pole model; heights beyond the tip are taken at the tip. */
export function beamInput(model: PoleModel): BeamInput {
  const lengthAboveM = model.lengthM - model.settingDepthM;
  const withinM = (heightM: number) => Math.min(heightM, lengthAboveM);
  return {
    lengthAboveM,
    shape: model.shape,
    root: model.root,
    shearFlexibility: model.shear?.flexibility ?? null,
    massHeightsM: model.masses.map((m) => withinM(m.heightM)),
    springHeightsM: model.cables.map((c) => withinM(c.heightM)),
    selfWeight: model.selfWeight,
  };
}

const built = new WeakMap<PoleModel, BeamSystem>();

/** The full beam of a pole model, built once. */
export function poleBeam(model: PoleModel): BeamSystem {
  const beam = built.get(model) ?? buildBeam(beamInput(model));
  built.set(model, beam);
  return beam;
}

/** Values of a pole's beam in the plane of an azimuth, at x = ln(root stiffness / E) and ln E, inputs at their medians. */
export function beamValues(model: PoleModel, azimuthDeg: number, x: number, lnModulus: number): BeamValues {
  return {
    modulusPa: Math.exp(lnModulus),
    densityKgPerM3: model.density.median,
    rootStiffness: Math.exp(lnModulus + x),
    massesKg: Float64Array.from(model.masses, (m) => m.massKg),
    springsNPerM: Float64Array.from(model.cables, (c) => {
      const along = Math.cos(((c.azimuthDeg - azimuthDeg) * Math.PI) / 180) ** 2;
      return c.stiffnessNPerM * (along + ACROSS_SHARE * (1 - along));
    }),
  };
}
