/**
 * First-order effects of stiffness and mass that vary along a pole. By hand: a field of 1 all over is all of the energies. Against the
 * samples' finite elements, which share no code with the program's beam, for waves on a tapered bedded pole.
 */
import { describe, expect, test } from 'vitest';
import { buildBeam, createModeSolver, weighEnergies } from '../../core/beam/index.ts';
import { solvePlane } from '../../samples/simulator/index.ts';

const LENGTH_M = 9;
const DEPTH_M = 1.7;
const MODES = [0, 1, 2];
const shape = { heightsM: [0, LENGTH_M], diametersM: [0.27, 0.18] };
const values = {
  modulusPa: 1.1e10,
  densityKgPerM3: 620,
  rootStiffness: 2e7,
  massesKg: new Float64Array(),
  springsNPerM: new Float64Array(),
};

function beamOf(root: Parameters<typeof buildBeam>[0]['root']) {
  return buildBeam({
    lengthAboveM: LENGTH_M,
    shape,
    root,
    shearFlexibility: null,
    massHeightsM: [],
    springHeightsM: [],
    selfWeight: false,
  });
}

describe('weighEnergies', () => {
  test('a field of 1 raises ln f by half where all of the energy bends the stem, and lowers it by half as mass', () => {
    const beam = beamOf({ model: 'spring' });
    const clamped = { ...values, rootStiffness: 1e15 };
    const solver = createModeSolver(beam, MODES.length);
    solver.solve(clamped);
    const [all] = weighEnergies(beam, [() => 1]);
    for (const mode of MODES) {
      expect(all!.stiffness(solver.shapes[mode]!, clamped)).toBeCloseTo(0.5, 6);
      expect(all!.mass(solver.shapes[mode]!, clamped, solver.frequenciesHz[mode]!)).toBeCloseTo(-0.5, 6);
    }
  });

  test('no field does nothing, and no fields are no energies', () => {
    const beam = beamOf({ model: 'spring' });
    const solver = createModeSolver(beam, 1);
    solver.solve(values);
    expect(weighEnergies(beam, [() => 0])[0]!.stiffness(solver.shapes[0]!, values)).toBe(0);
    expect(weighEnergies(beam, [])).toEqual([]);
  });

  test.each([1, 2, 3])('wave %i moves the modes as finite elements say', (k) => {
    const SIZE = 0.01;
    const root = { model: 'bedded', subgrade: 'linear', settingDepthM: DEPTH_M } as const;
    const wave = (heightM: number) => Math.cos((k * Math.PI * (heightM + DEPTH_M)) / (LENGTH_M + DEPTH_M));
    const elementsHz = (stiffness: number, mass: number) =>
      solvePlane(
        {
          heightM: LENGTH_M,
          sectionAt: (h) => {
            const d = 0.27 + ((0.18 - 0.27) * h) / LENGTH_M;
            return {
              areaM2: ((Math.PI * d ** 2) / 4) * (1 + mass * wave(h)),
              secondMomentM4: ((Math.PI * d ** 4) / 64) * (1 + stiffness * wave(h)),
            };
          },
          modulusPa: values.modulusPa,
          densityKgPerM3: values.densityKgPerM3,
          shear: null,
          gravityMPerS2: 0,
          root: {
            kind: 'bedded',
            settingDepthM: DEPTH_M,
            reactionModulusPaAt: (z) => values.rootStiffness * z,
          },
          springs: [],
          masses: [],
        },
        100,
      ).frequenciesHz;
    const beam = beamOf(root);
    const solver = createModeSolver(beam, MODES.length);
    solver.solve(values);
    const [energies] = weighEnergies(beam, [wave]);
    const rises = [elementsHz(SIZE, 0), elementsHz(0, SIZE)];
    const falls = [elementsHz(-SIZE, 0), elementsHz(0, -SIZE)];
    // the mesh of the elements
    const NEAR = 2e-4;
    for (const mode of MODES) {
      const perUnit = [0, 1].map((i) => Math.log(rises[i]![mode]! / falls[i]![mode]!) / (2 * SIZE));
      const frequencyHz = solver.frequenciesHz[mode]!;
      const [stiffness, mass] = [
        energies!.stiffness(solver.shapes[mode]!, values),
        energies!.mass(solver.shapes[mode]!, values, frequencyHz),
      ];
      expect(Math.abs(stiffness - perUnit[0]!)).toBeLessThan(NEAR);
      expect(Math.abs(mass - perUnit[1]!)).toBeLessThan(NEAR);
    }
  });
});
