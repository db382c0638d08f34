/**
 * A uniform Euler-Bernoulli pole whose butt lies in soil of constant modulus k, against its exact equation. Above ground
 * E I w'''' = m omega^2 w, with the functions of Krylov and Duncan; below E I w'''' = -(k - m omega^2) w = -4 b^4 E I w, with
 * Hetenyi's F1 = cosh bx cos bx, F2 = (cosh bx sin bx + sinh bx cos bx) / 2, F3 = sinh bx sin bx / 2, F4 = (cosh bx sin bx -
 * sinh bx cos bx) / 4 (Hetenyi 1946, Beams on Elastic Foundation, chapter 1; from memory, and each checked by differentiating). Both
 * ends are free: two states at the butt are carried to the tip, where moment and shear force vanish for some mix of them.
 * Agreement demanded: 1e-6 in modes 1 to 3.
 */
import { describe, expect, test } from 'vitest';
import { buildBeam, createModeSolver, secondMomentM4 } from '../../core/beam/index.ts';

const ABOVE_M = 8.6;
const DEPTH_M = 1.7;
const DIAMETER_M = 0.26;
const MODULUS_PA = 1e10;
const DENSITY = 640;
const BENDING = MODULUS_PA * secondMomentM4(DIAMETER_M);
const MASS_PER_M = (DENSITY * Math.PI * DIAMETER_M ** 2) / 4;

type State = readonly [w: number, slope: number, curvature: number, third: number];

/**
 * Values of w and its three derivatives at x from those at 0 by four functions of b x. The derivative of each but the
 * first is b times the one before it, that of the first b times `wrap` times the last.
 */
function carry(
  [w, slope, curvature, third]: State,
  b: number,
  [f0, f1, f2, f3]: readonly [number, number, number, number],
  wrap: number,
): State {
  const [y0, y1, y2, y3] = [w, slope / b, curvature / b ** 2, third / b ** 3];
  return [
    f0 * y0 + f1 * y1 + f2 * y2 + f3 * y3,
    b * (wrap * f3 * y0 + f0 * y1 + f1 * y2 + f2 * y3),
    b ** 2 * (wrap * (f2 * y0 + f3 * y1) + f0 * y2 + f1 * y3),
    b ** 3 * (wrap * (f1 * y0 + f2 * y1 + f3 * y2) + f0 * y3),
  ];
}

function carryAbove(state: State, b: number): State {
  const z = b * ABOVE_M;
  const [c, s, ch, sh] = [Math.cos(z), Math.sin(z), Math.cosh(z), Math.sinh(z)];
  return carry(state, b, [(ch + c) / 2, (sh + s) / 2, (ch - c) / 2, (sh - s) / 2], 1);
}

function carryBelow(state: State, b: number): State {
  const z = b * DEPTH_M;
  const [c, s, ch, sh] = [Math.cos(z), Math.sin(z), Math.cosh(z), Math.sinh(z)];
  return carry(state, b, [ch * c, (ch * s + sh * c) / 2, (sh * s) / 2, (ch * s - sh * c) / 4], -4);
}

/** Zero at a natural frequency. */
function freeEndDeterminant(frequencyHz: number, soilPa: number): number {
  const inertia = MASS_PER_M * (2 * Math.PI * frequencyHz) ** 2;
  const above = (inertia / BENDING) ** 0.25;
  const below = ((soilPa - inertia) / (4 * BENDING)) ** 0.25;
  const [p, q] = (
    [
      [1, 0, 0, 0],
      [0, 1, 0, 0],
    ] as const
  ).map((start) => carryAbove(carryBelow(start, below), above));
  return p![2] * q![3] - p![3] * q![2];
}

function exactHz(nearHz: number, soilPa: number): number {
  let [low, high] = [nearHz * 0.999, nearHz * 1.001];
  const sign = Math.sign(freeEndDeterminant(low, soilPa));
  expect(Math.sign(freeEndDeterminant(high, soilPa)), `no root near ${nearHz} Hz`).toBe(-sign);
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (Math.sign(freeEndDeterminant(middle, soilPa)) === sign) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

describe('soil modulus', () => {
  const system = buildBeam({
    lengthAboveM: ABOVE_M,
    shape: { heightsM: [0, ABOVE_M], diametersM: [DIAMETER_M, DIAMETER_M] },
    root: { model: 'bedded', subgrade: 'constant', settingDepthM: DEPTH_M },
    shearFlexibility: null,
    massHeightsM: [],
    springHeightsM: [],
    selfWeight: false,
  });
  const solver = createModeSolver(system, 3);

  test.each([1e6, 3e6, 1e7, 3e7, 1e8, 3e8])('%d Pa', (soilPa) => {
    solver.solve({
      modulusPa: MODULUS_PA,
      densityKgPerM3: DENSITY,
      rootStiffness: soilPa,
      massesKg: new Float64Array(0),
      springsNPerM: new Float64Array(0),
    });
    for (const frequencyHz of solver.frequenciesHz) {
      const exact = exactHz(frequencyHz, soilPa);
      expect(Math.abs(frequencyHz / exact - 1), `${frequencyHz} against ${exact} Hz`).toBeLessThan(1e-6);
    }
  });
});
