/**
 * The Ritz beam against the samples' finite elements, which share no code with it: shear, taper, self-weight,
 * masses, cable springs and all three roots. Elements with shear are good to about 1e-4 in mode 3 on their own mesh.
 */
import { describe, expect, test } from 'vitest';
import {
  type BeamInput,
  buildBeam,
  createModeSolver,
  rootRotationalStiffness,
} from '../../core/beam/index.ts';
import {
  computeRootStiffness,
  type PoleModel,
  SHEAR_OF_WOOD,
  solvePlane,
} from '../../samples/simulator/index.ts';

const LENGTH_M = 8.5;
const DEPTH_M = 1.7;
const BASE_M = 0.28;
const TIP_M = 0.19;
const MODULUS_PA = 1.05e10;
const DENSITY = 620;
const diameterAt = (heightM: number) => BASE_M + ((TIP_M - BASE_M) * heightM) / LENGTH_M;

const common: Omit<BeamInput, 'root'> = {
  lengthAboveM: LENGTH_M,
  shape: { heightsM: [0, LENGTH_M], diametersM: [BASE_M, TIP_M] },
  shearFlexibility: SHEAR_OF_WOOD.modulusRatio / SHEAR_OF_WOOD.coefficient,
  massHeightsM: [2, 6.1],
  springHeightsM: [5.4],
  selfWeight: true,
};
const MASSES_KG = [0.4, 35];
const SPRING_N_PER_M = 1800;

function elementPole(root: PoleModel['root']): PoleModel {
  return {
    heightM: LENGTH_M,
    sectionAt: (heightM) => {
      const d = diameterAt(heightM);
      return { areaM2: (Math.PI * d ** 2) / 4, secondMomentM4: (Math.PI * d ** 4) / 64 };
    },
    modulusPa: MODULUS_PA,
    densityKgPerM3: DENSITY,
    shear: SHEAR_OF_WOOD,
    gravityMPerS2: 9.80665,
    root,
    springs: [{ heightM: 5.4, stiffnessNPerM: SPRING_N_PER_M }],
    masses: [
      { heightM: 2, massKg: MASSES_KG[0]! },
      { heightM: 6.1, massKg: MASSES_KG[1]! },
    ],
  };
}

function ritzFrequenciesHz(root: BeamInput['root'], rootStiffness: number): number[] {
  const solver = createModeSolver(buildBeam({ ...common, root }), 4);
  solver.solve({
    modulusPa: MODULUS_PA,
    densityKgPerM3: DENSITY,
    rootStiffness,
    massesKg: Float64Array.from(MASSES_KG),
    springsNPerM: Float64Array.of(SPRING_N_PER_M),
  });
  return [...solver.frequenciesHz];
}

const N_H = 2.2e7;
const K_CLAY = 9e6;
const CASES: { name: string; root: BeamInput['root']; value: number; elements: PoleModel['root'] }[] = [
  {
    name: 'spring',
    root: { model: 'spring' },
    value: 2.1e6,
    elements: { kind: 'spring', rotationalNmPerRad: 2.1e6 },
  },
  {
    name: 'coupled, linear soil',
    root: { model: 'coupled', subgrade: 'linear', settingDepthM: DEPTH_M },
    value: N_H,
    elements: {
      kind: 'coupled',
      lateralNPerM: (N_H * DEPTH_M ** 2) / 2,
      crossN: (-N_H * DEPTH_M ** 3) / 3,
      rotationalNmPerRad: (N_H * DEPTH_M ** 4) / 4,
    },
  },
  {
    name: 'bedded, linear soil',
    root: { model: 'bedded', subgrade: 'linear', settingDepthM: DEPTH_M },
    value: N_H,
    elements: { kind: 'bedded', settingDepthM: DEPTH_M, reactionModulusPaAt: (z) => N_H * z },
  },
  {
    name: 'bedded, constant soil',
    root: { model: 'bedded', subgrade: 'constant', settingDepthM: DEPTH_M },
    value: K_CLAY,
    elements: { kind: 'bedded', settingDepthM: DEPTH_M, reactionModulusPaAt: () => K_CLAY },
  },
];

describe('frequencies', () => {
  // elements carry the weight's thrust on below ground, the Ritz beam lets the soil take it: up to 8e-4 on a bedded root
  test.each(CASES)('$name', ({ root, value, elements }) => {
    const ritz = ritzFrequenciesHz(root, value);
    const wanted = solvePlane(elementPole(elements), 200, { above: 60, below: 24 }).frequenciesHz;
    for (const mode of [0, 1, 2]) {
      const relative = ritz[mode]! / wanted[mode]! - 1;
      expect(Math.abs(relative), `mode ${mode + 1}: ${ritz[mode]} against ${wanted[mode]}`).toBeLessThan(
        root.model === 'bedded' ? 1e-3 : 2e-4,
      );
    }
  });

  test.each(CASES)('$name without weight', ({ root, value, elements }) => {
    const solver = createModeSolver(buildBeam({ ...common, selfWeight: false, root }), 3);
    solver.solve({
      modulusPa: MODULUS_PA,
      densityKgPerM3: DENSITY,
      rootStiffness: value,
      massesKg: Float64Array.from(MASSES_KG),
      springsNPerM: Float64Array.of(SPRING_N_PER_M),
    });
    const pole = { ...elementPole(elements), gravityMPerS2: 0 };
    const wanted = solvePlane(pole, 200, { above: 60, below: 24 }).frequenciesHz;
    for (const mode of [0, 1, 2]) {
      const relative = solver.frequenciesHz[mode]! / wanted[mode]! - 1;
      expect(Math.abs(relative), `mode ${mode + 1}: ${relative}`).toBeLessThan(2e-4);
    }
  });
});

describe('static stiffness of the root', () => {
  test.each(CASES.filter(({ root }) => root.model !== 'spring'))('$name', ({ root, value, elements }) => {
    const stiffness = rootRotationalStiffness(root, common.shape, common.shearFlexibility)(MODULUS_PA, value);
    const wanted = computeRootStiffness(elementPole(elements)).rotationalNmPerRad;
    // twelve elements below ground
    expect(Math.abs(stiffness / wanted - 1), `${stiffness} against ${wanted}`).toBeLessThan(1e-3);
  });

  test('of a butt does not hang on the profile of the stem above', () => {
    const root = { model: 'bedded', subgrade: 'linear', settingDepthM: DEPTH_M } as const;
    const heightsM = [0, 1, 2.5, 4, LENGTH_M];
    const profile = { heightsM, diametersM: heightsM.map(diameterAt) };
    const measured = rootRotationalStiffness(root, profile, common.shearFlexibility)(1, 1e-3);
    const straight = rootRotationalStiffness(root, common.shape, common.shearFlexibility)(1, 1e-3);
    expect(measured / straight).toBeCloseTo(1, 9);
  });

  // rigid body on springs, derived in buildBeam: n_h D^4 / 36 and k D^3 / 12
  test.each([
    ['linear', N_H, (N_H * DEPTH_M ** 4) / 36],
    ['constant', K_CLAY, (K_CLAY * DEPTH_M ** 3) / 12],
  ] as const)('of a butt that does not bend, %s soil', (subgrade, value, wanted) => {
    const root = { model: 'bedded', subgrade, settingDepthM: DEPTH_M } as const;
    const rigid = rootRotationalStiffness(root, common.shape, null)(1e18, value);
    expect(Math.abs(rigid / wanted - 1)).toBeLessThan(1e-5);
    const coupled = rootRotationalStiffness(
      { ...root, model: 'coupled' },
      common.shape,
      null,
    )(MODULUS_PA, value);
    expect(Math.abs(coupled / wanted - 1)).toBeLessThan(1e-12);
  });
});
