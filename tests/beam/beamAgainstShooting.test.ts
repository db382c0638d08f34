/**
 * The Ritz beam with all that can hang on it against its differential equations, integrated step by step (Timoshenko 1921, Phil. Mag.
 * 41:744, with thrust P and soil k; the equations follow from the energies in docs/physics.md by variation):
 *   w' = (S theta + Q) / (S - P), theta' = M / (E I), M' = -(Q + P w') - rho I omega^2 theta, Q' = (k - rho A omega^2) w,
 * S = kappa G A, Q the horizontal force in the section. A mass or spring steps Q by (s - m omega^2) w. The two states that the root leaves
 * free are carried to the tip, where M = Q = 0 for some mix of them at a natural frequency. No trial functions, no energies, no matrices.
 */
import { describe, expect, test } from 'vitest';
import { type BeamInput, type BeamValues, buildBeam, createModeSolver } from '../../core/beam/index.ts';

const GRAVITY = 9.80665;
const LENGTH_M = 8.5;
const DEPTH_M = 1.7;
const MODULUS_PA = 1.05e10;
const DENSITY = 620;
/** Steps of the classical Runge-Kutta method to a metre: leaves 1e-9. */
const STEPS_PER_M = 150;
const TOLERANCE = 2e-7;

type Case = { name: string; input: BeamInput; values: BeamValues };

function makeCase(
  name: string,
  rootStiffness: number,
  changes: Partial<BeamInput> & Pick<BeamInput, 'root'>,
): Case {
  const input: BeamInput = {
    lengthAboveM: LENGTH_M,
    shape: { heightsM: [0, LENGTH_M], diametersM: [0.28, 0.19] },
    shearFlexibility: 17.8,
    massHeightsM: [2, 6.1],
    springHeightsM: [5.4],
    selfWeight: true,
    ...changes,
  };
  const values = {
    modulusPa: MODULUS_PA,
    densityKgPerM3: DENSITY,
    rootStiffness,
    massesKg: Float64Array.from(input.massHeightsM, (_, i) => [0.4, 35][i]!),
    springsNPerM: Float64Array.from(input.springHeightsM, () => 1800),
  };
  return { name, input, values };
}

const SPRING = { model: 'spring' } as const;
const butt = (model: 'coupled' | 'bedded', subgrade: 'constant' | 'linear') =>
  ({ model, subgrade, settingDepthM: DEPTH_M }) as const;
const GIRTHS = { heightsM: [0, 1.7, 4, LENGTH_M], diametersM: [0.3, 0.272, 0.262, 0.19] };
const BARE = { massHeightsM: [], springHeightsM: [] };

const CASES: Case[] = [
  makeCase('spring', 2e6, { root: SPRING }),
  makeCase('spring, loose', 1.5e5, { root: SPRING }),
  makeCase('spring, measured girths', 2e6, { root: SPRING, shape: GIRTHS }),
  makeCase('coupled, linear soil', 2.2e7, { root: butt('coupled', 'linear') }),
  makeCase('coupled, constant soil', 9e6, { root: butt('coupled', 'constant') }),
  makeCase('bedded, linear soil', 2.2e7, { root: butt('bedded', 'linear') }),
  makeCase('bedded, constant soil', 9e6, { root: butt('bedded', 'constant') }),
  makeCase('bedded, loose soil', 1.5e6, { root: butt('bedded', 'linear') }),
  makeCase('bedded, bare', 2.2e7, { root: butt('bedded', 'linear'), ...BARE }),
  makeCase('bedded, measured girths', 2.2e7, { root: butt('bedded', 'linear'), shape: GIRTHS, ...BARE }),
  makeCase('bedded, things at ground line', 2.2e7, {
    root: butt('bedded', 'linear'),
    massHeightsM: [0.05, 6.1],
    springHeightsM: [0],
  }),
  makeCase('bedded, firm linear soil', 4e8, { root: butt('bedded', 'linear') }),
  makeCase('bedded, firm constant soil', 1e8, { root: butt('bedded', 'constant') }),
];

type State = [w: number, theta: number, moment: number, force: number];

function diameterAt({ heightsM, diametersM }: BeamInput['shape'], heightM: number): number {
  const upper = heightsM.findIndex((h, i) => i > 0 && (heightM <= h || i === heightsM.length - 1));
  const [h0, h1, d0, d1] = [
    heightsM[upper - 1]!,
    heightsM[upper]!,
    diametersM[upper - 1]!,
    diametersM[upper]!,
  ];
  return d0 + ((d1 - d0) * (heightM - h0)) / (h1 - h0);
}

/** Volume of the stem from a height to the tip: truncated cones between stations. */
function volumeAbove(shape: BeamInput['shape'], heightM: number): number {
  const ends = [heightM, ...shape.heightsM.filter((h) => h > heightM)];
  return ends.slice(1).reduce((sum, top, i) => {
    const [d0, d1] = [diameterAt(shape, ends[i]!), diameterAt(shape, top)];
    return sum + (Math.PI * (top - ends[i]!) * (d0 ** 2 + d0 * d1 + d1 ** 2)) / 12;
  }, 0);
}

function tipDeterminant({ input, values }: Case, frequencyHz: number): number {
  const omega2 = (2 * Math.PI * frequencyHz) ** 2;
  const { root, shape } = input;
  const { modulusPa, densityKgPerM3, massesKg, springsNPerM, rootStiffness } = values;

  const slopeAt = (x: number, [w, theta, moment, force]: State, massAbove: number): State => {
    const d = diameterAt(shape, x);
    const [area, second] = [(Math.PI * d ** 2) / 4, (Math.PI * d ** 4) / 64];
    const thrust =
      input.selfWeight && x >= 0 ? GRAVITY * (densityKgPerM3 * volumeAbove(shape, x) + massAbove) : 0;
    const stiffness = (modulusPa * area) / input.shearFlexibility!;
    const slope = (stiffness * theta + force) / (stiffness - thrust);
    const soil = x < 0 && root.model === 'bedded' ? rootStiffness * (root.subgrade === 'linear' ? -x : 1) : 0;
    return [
      slope,
      moment / (modulusPa * second),
      -(force + thrust * slope) - densityKgPerM3 * second * omega2 * theta,
      (soil - densityKgPerM3 * area * omega2) * w,
    ];
  };
  const add = (a: State, b: State, h: number) => a.map((value, i) => value + h * b[i]!) as State;

  const bottom = root.model === 'bedded' ? -root.settingDepthM : 0;
  const inside = [0, ...shape.heightsM, ...input.massHeightsM, ...input.springHeightsM];
  const ends = [...new Set([bottom, ...inside.filter((h) => h > bottom), input.lengthAboveM])].sort(
    (a, b) => a - b,
  );
  const carry = (start: State): State => {
    let state = start;
    for (const [i, from] of ends.slice(0, -1).entries()) {
      const to = ends[i + 1]!;
      const massAbove = input.massHeightsM.reduce((sum, h, k) => sum + (h >= to ? massesKg[k]! : 0), 0);
      const steps = Math.ceil((to - from) * STEPS_PER_M);
      const h = (to - from) / steps;
      // just inside of the piece, so that ends belong to it
      const within = (x: number) => Math.min(Math.max(x, from + 1e-12), to - 1e-12);
      for (let s = 0; s < steps; s++) {
        const x = from + s * h;
        const k1 = slopeAt(within(x), state, massAbove);
        const k2 = slopeAt(within(x + h / 2), add(state, k1, h / 2), massAbove);
        const k3 = slopeAt(within(x + h / 2), add(state, k2, h / 2), massAbove);
        const k4 = slopeAt(within(x + h), add(state, k3, h), massAbove);
        state = state.map((y, j) => y + (h / 6) * (k1[j]! + 2 * k2[j]! + 2 * k3[j]! + k4[j]!)) as State;
      }
      const point =
        input.springHeightsM.reduce((sum, at, k) => sum + (at === to ? springsNPerM[k]! : 0), 0) -
        omega2 * input.massHeightsM.reduce((sum, at, k) => sum + (at === to ? massesKg[k]! : 0), 0);
      state = [state[0], state[1], state[2], state[3] + point * state[0]];
    }
    return state;
  };
  const [p, q] = startStates(root, rootStiffness).map(carry);
  return p![2] * q![3] - p![3] * q![2];
}

/** Two independent states that a root leaves free at the lowest point. */
function startStates(root: BeamInput['root'], rootStiffness: number): State[] {
  if (root.model === 'spring') {
    return [
      [0, 1, rootStiffness, 0],
      [0, 0, 0, 1],
    ];
  }
  if (root.model === 'coupled') {
    const p = root.subgrade === 'constant' ? 0 : 1;
    const part = (n: number) => (rootStiffness * root.settingDepthM ** (p + n)) / (p + n);
    return [
      [1, 0, -part(2), part(1)],
      [0, 1, part(3), -part(2)],
    ];
  }
  return [
    [1, 0, 0, 0],
    [0, 1, 0, 0],
  ];
}

/** Natural frequency near another one, by secants. */
function refineHz(given: Case, nearHz: number): number {
  let [f0, f1] = [nearHz * (1 - 2e-5), nearHz * (1 + 2e-5)];
  let [d0, d1] = [tipDeterminant(given, f0), tipDeterminant(given, f1)];
  for (let step = 0; step < 6 && Math.abs(f1 - f0) > 1e-11 * nearHz; step++) {
    const next = f1 - (d1 * (f1 - f0)) / (d1 - d0);
    [f0, d0, f1, d1] = [f1, d1, next, tipDeterminant(given, next)];
  }
  return f1;
}

describe('modes 1 to 3', () => {
  test.each(CASES)('$name', (given) => {
    const solver = createModeSolver(buildBeam(given.input), 3);
    solver.solve(given.values);
    solver.frequenciesHz.forEach((actual, i) => {
      const wanted = refineHz(given, actual);
      const relative = actual / wanted - 1;
      expect(Math.abs(relative), `mode ${i + 1}: ${relative.toExponential(2)}`).toBeLessThan(TOLERANCE);
    });
  });
});
