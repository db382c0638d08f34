/**
 * What the beam tends to where roots, taper and shear go to their ends. Numbers of the uniform beam: Blevins 1979, Formulas
 * for Natural Frequency and Mode Shape, table 8-1 (from memory; each follows from its one-line equation, named beside it).
 */
import { describe, expect, test } from 'vitest';
import {
  type BeamInput,
  buildBeam,
  createModeSolver,
  secondMomentM4,
  shapeRatio,
  staticDeflection,
} from '../../core/beam/index.ts';

const LENGTH_M = 10;
const DIAMETER_M = 0.25;
const MODULUS_PA = 1.1e10;
const DENSITY = 650;
const BENDING = MODULUS_PA * secondMomentM4(DIAMETER_M);
const MASS_PER_M = (DENSITY * Math.PI * DIAMETER_M ** 2) / 4;
const UNIT_HZ = Math.sqrt(BENDING / MASS_PER_M) / LENGTH_M ** 2 / (2 * Math.PI);
/** tan b = tanh b */
const HINGED_FREE = [3.926602312, 7.068582746];
/** cos b cosh b = 1 */
const FREE_FREE = [4.730040745, 7.853204624];
/** cos b cosh b = -1 */
const CLAMPED_FREE = [1.875104069, 4.694091133, 7.854757438];

const uniform: BeamInput = {
  lengthAboveM: LENGTH_M,
  shape: { heightsM: [0, LENGTH_M], diametersM: [DIAMETER_M, DIAMETER_M] },
  root: { model: 'spring' },
  shearFlexibility: null,
  massHeightsM: [],
  springHeightsM: [],
  selfWeight: false,
};

function solve(changes: Partial<BeamInput>, fixity: number) {
  const system = buildBeam({ ...uniform, ...changes });
  const solver = createModeSolver(system, 4);
  const values = {
    modulusPa: MODULUS_PA,
    densityKgPerM3: DENSITY,
    rootStiffness: (fixity * BENDING) / LENGTH_M,
    massesKg: new Float64Array(system.input.massHeightsM.length),
    springsNPerM: new Float64Array(system.input.springHeightsM.length),
  };
  solver.solve(values);
  return { system, solver, values, lambdas: [...solver.frequenciesHz].map((f) => f / UNIT_HZ) };
}

function expectRelative(actual: number, wanted: number, tolerance: number): void {
  expect(Math.abs(actual / wanted - 1), `${actual} against ${wanted}`).toBeLessThan(tolerance);
}

describe('root', () => {
  test('a spring that goes to nothing leaves a hinge: one slow swing, then the hinged-free modes', () => {
    const fixity = 1e-6;
    const { lambdas } = solve({}, fixity);
    // rigid rod on a hinge: omega^2 = k / (m L^3 / 3)
    expectRelative(lambdas[0]!, Math.sqrt(3 * fixity), 1e-6);
    HINGED_FREE.forEach((b, i) => {
      expectRelative(lambdas[i + 1]!, b ** 2, 1e-6);
    });
  });

  test('a root that holds neither way leaves two rigid modes, then the free-free ones', () => {
    const root = { model: 'matrix', lateral: 1e-2, cross: 0, rotational: 1 } as const;
    const { lambdas } = solve({ root }, 1e-5);
    expect(lambdas[1]!).toBeLessThan(0.02);
    FREE_FREE.forEach((b, i) => {
      expectRelative(lambdas[i + 2]!, b ** 2, 1e-5);
    });
  });

  test('stiffer and stiffer it comes to the clamp from below', () => {
    const clamp = CLAMPED_FREE.map((b) => b ** 2);
    for (const mode of [0, 1, 2]) {
      const at = [1, 1e2, 1e4, 1e6, 1e8].map((fixity) => solve({}, fixity).lambdas[mode]!);
      for (const [i, lambda] of at.entries()) {
        expect(lambda).toBeLessThan(clamp[mode]! * (1 + 1e-8));
        if (i > 0) expect(lambda).toBeGreaterThan(at[i - 1]!);
      }
      expectRelative(at.at(-1)!, clamp[mode]!, 1e-6);
    }
  });

  test('a bedded butt in firm soil seems longer by the soil’s characteristic length, and comes to the clamp', () => {
    const root = { model: 'bedded', subgrade: 'constant', settingDepthM: 1.5 } as const;
    const { solver, values } = solve({ root }, 1);
    // a long beam on springs turns by M a / (E I) under a moment, a = (4 E I / k)^(1/4) (Hetenyi 1946): as if longer by a
    for (const characteristicM of [0.5, 0.3, 0.2]) {
      solver.solve({ ...values, rootStiffness: (4 * BENDING) / characteristicM ** 4 });
      const longer = 1 + characteristicM / LENGTH_M;
      const lambda = solver.frequenciesHz[0]! / UNIT_HZ;
      // what is left is of second order in a / L
      expectRelative(lambda, (CLAMPED_FREE[0]! / longer) ** 2, 3 * (characteristicM / LENGTH_M) ** 2);
    }
  });
});

describe('stem', () => {
  test('a taper that goes to one is no taper', () => {
    const shape = { heightsM: [0, LENGTH_M], diametersM: [DIAMETER_M, DIAMETER_M * (1 - 1e-9)] };
    const { lambdas } = solve({ shape }, 1e12);
    CLAMPED_FREE.forEach((b, i) => {
      expectRelative(lambdas[i]!, b ** 2, 1e-7);
    });
  });

  test('a stem like a thread has no shear', () => {
    const thread = { heightsM: [0, LENGTH_M], diametersM: [DIAMETER_M, DIAMETER_M].map((d) => d / 1000) };
    const { solver, values } = solve({ shape: thread, shearFlexibility: 18 }, 1);
    solver.solve({ ...values, rootStiffness: 1e12 * BENDING * 1e-12 });
    CLAMPED_FREE.forEach((b, i) => {
      expectRelative((1000 * solver.frequenciesHz[i]!) / UNIT_HZ, b ** 2, 1e-5);
    });
  });

  test('stations on a straight line change nothing', () => {
    const ends = [0.3, 0.18] as const;
    const at = (h: number) => ends[0] + ((ends[1] - ends[0]) * h) / LENGTH_M;
    const straight = solve({ shape: { heightsM: [0, LENGTH_M], diametersM: ends } }, 20).lambdas;
    const heightsM = [0, 1.7, 4.4, LENGTH_M];
    const stations = solve({ shape: { heightsM, diametersM: heightsM.map(at) } }, 20).lambdas;
    for (const mode of [0, 1, 2]) expectRelative(stations[mode]!, straight[mode]!, 1e-7);
  });
});

describe('shapeRatio', () => {
  const { system, solver } = solve({}, 1e12);

  // w = cosh bx - cos bx - s (sinh bx - sin bx), s = (cosh b + cos b) / (sinh b + sin b)
  test.each(CLAMPED_FREE.map((b, mode) => ({ b, mode })))('of a clamped beam, mode $mode', ({ b, mode }) => {
    const s = (Math.cosh(b) + Math.cos(b)) / (Math.sinh(b) + Math.sin(b));
    const shapeAt = (x: number) =>
      Math.cosh(b * x) - Math.cos(b * x) - s * (Math.sinh(b * x) - Math.sin(b * x));
    for (const heightM of [1, 2, 5, 7]) {
      const heights = { heightM, referenceHeightM: LENGTH_M };
      const ratio = shapeRatio(system, solver.shapes[mode]!, heights);
      expect(Math.abs(ratio - shapeAt(heightM / LENGTH_M) / shapeAt(1))).toBeLessThan(1e-5);
    }
  });

  test('a leaning accelerometer reads its height and g / omega^2 more, on a pole that swings about a hinge', () => {
    const swinging = solve({}, 1e-3);
    const frequencyHz = swinging.solver.frequenciesHz[0]!;
    const leanM = 9.80665 / (2 * Math.PI * frequencyHz) ** 2;
    const heights = { heightM: 2, referenceHeightM: 6 };
    const shape = swinging.solver.shapes[0]!;
    expectRelative(shapeRatio(swinging.system, shape, heights), 2 / 6, 1e-3);
    expectRelative(shapeRatio(swinging.system, shape, heights, frequencyHz), (2 + leanM) / (6 + leanM), 1e-3);
  });
});

describe('staticDeflection', () => {
  const pull = { forceN: 800, heightM: 6, readAtM: 3 };

  test('of a uniform pole on a spring root, by hand', () => {
    const { system, values } = solve({ springHeightsM: [6] }, 8);
    // F x^2 (3 a - x) / (6 E I) at x below the force at a (any handbook), and F a x / k
    const wanted = (800 * 9 * (18 - 3)) / (6 * BENDING) + (800 * 6 * 3) / values.rootStiffness;
    expectRelative(staticDeflection(system, values, pull), wanted, 1e-8);
  });

  test('shear adds F x / (kappa G A)', () => {
    const { system, values } = solve({ springHeightsM: [6], shearFlexibility: 18 }, 8);
    const shearM = (800 * 3 * 18) / (MODULUS_PA * (Math.PI / 4) * DIAMETER_M ** 2);
    const without = solve({ springHeightsM: [6] }, 8);
    const wanted = staticDeflection(without.system, without.values, pull) + shearM;
    expectRelative(staticDeflection(system, values, pull), wanted, 1e-8);
  });

  test('is the same read at the other height (Maxwell-Betti)', () => {
    const { system, values } = solve({ springHeightsM: [3, 6], shearFlexibility: 18 }, 8);
    const there = staticDeflection(system, values, pull);
    expectRelative(staticDeflection(system, values, { forceN: 800, heightM: 3, readAtM: 6 }), there, 1e-10);
  });

  test('away from a height that the beam knows it is low by a few thousandths at most', () => {
    const bare = solve({ shearFlexibility: 18 }, 8);
    const known = solve({ springHeightsM: [2], shearFlexibility: 18 }, 8);
    const at2 = { forceN: 800, heightM: 2, readAtM: 2 };
    const short = staticDeflection(bare.system, bare.values, at2);
    const exact = staticDeflection(known.system, known.values, at2);
    expect(short).toBeLessThan(exact);
    expectRelative(short, exact, 5e-3);
  });
});
