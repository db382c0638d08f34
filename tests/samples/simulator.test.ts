/**
 * The finite-element simulator behind the samples against exact roots and limits:
 * - tables of tests/reference/data, each solved from its exact equation (sources in their heads: Blevins 1979;
 *   Conway & Dubil 1965; Laura, Pombo & Susemihl 1974; Timoshenko 1921; Greenhill 1881);
 * - a long beam on an elastic foundation, and a rigid pole in soil (Hetenyi 1946, from memory; algebra of the limits
 *   n_h D^4/36 and k D^3/12 by equilibrium of a rigid bar).
 * The mesh is the one that makes the samples. Its error grows as (waves per element)^4, and as its square in the
 * shear part, so the tolerances differ by case and say so.
 */
import { describe, expect, test } from 'vitest';
import { computeRootStiffness, type PoleModel, solvePlane } from '../../samples/simulator/index.ts';
import { readReferenceTable } from '../reference/readReferenceTable.ts';

const UNIT_POLE: PoleModel = {
  heightM: 1,
  sectionAt: () => ({ areaM2: 1, secondMomentM4: 1 }),
  modulusPa: 1,
  densityKgPerM3: 1,
  shear: null,
  gravityMPerS2: 0,
  root: { kind: 'spring', rotationalNmPerRad: Number.POSITIVE_INFINITY },
  springs: [],
  masses: [],
};
const HIGHEST_HZ = 1000;
/** Modes 1 to 3 of a pole without shear: the mesh error of mode 3 is 5e-7, more where a mass sits in an element. */
const BENDING_TOLERANCE = 2e-6;

function solveOmegas(change: Partial<PoleModel>): number[] {
  const modes = solvePlane({ ...UNIT_POLE, ...change }, HIGHEST_HZ);
  return modes.frequenciesHz.map((frequencyHz) => 2 * Math.PI * frequencyHz);
}

function expectModes(actual: readonly number[], wanted: readonly number[], tolerance: number): void {
  for (const [i, value] of wanted.entries()) {
    expect(Math.abs(actual[i]! / value - 1), `mode ${i + 1}: ${actual[i]} against ${value}`).toBeLessThan(
      tolerance,
    );
  }
}

function pick(row: Record<string, string>, columns: readonly string[]): number[] {
  return columns.map((column) => Number(row[column]));
}

describe('natural frequencies against exact roots', () => {
  test('uniform clamped pole, modes 1 to 8', () => {
    const wanted = readReferenceTable('uniform-cantilever-roots.csv').map((row) =>
      Number(row['(beta_n_L)^2']),
    );
    expect(wanted).toHaveLength(8);
    expectModes(solveOmegas({}), wanted.slice(0, 3), BENDING_TOLERANCE);
    // Mode 8 has six elements a half wave.
    expectModes(solveOmegas({}), wanted, 1e-4);
  });

  test.each(readReferenceTable('truncated-cone-cantilever.csv').filter((row) => Number(row.alpha) > 0))(
    'truncated cone, tip over base $alpha',
    (row) => {
      const tip = Number(row.alpha);
      const sectionAt = (heightM: number) => {
        const diameter = 1 - (1 - tip) * heightM;
        return { areaM2: diameter ** 2, secondMomentM4: diameter ** 4 };
      };
      expectModes(solveOmegas({ sectionAt }), pick(row, ['lam1', 'lam2', 'lam3']), BENDING_TOLERANCE);
    },
  );

  test.each(
    readReferenceTable('rot-lateral-spring-cantilever.csv').filter(
      (row) => Number(row.Kt) < 1e6 && Number(row.Kx) < 1e6,
    ),
  )('on springs, rotation $Kt and deflection $Kx', (row) => {
    const root = {
      kind: 'coupled',
      lateralNPerM: Number(row.Kx),
      crossN: 0,
      rotationalNmPerRad: Number(row.Kt),
    } as const;
    const wanted = pick(row, ['b1', 'b2', 'b3']).map((value) => value * value);
    expectModes(solveOmegas({ root }), wanted, BENDING_TOLERANCE);
  });

  test.each(readReferenceTable('mass-at-height-rot-spring.csv'))(
    'mass $mu at $a on a rotational spring $K',
    (row) => {
      const rotationalNmPerRad = row.K === 'inf' ? Number.POSITIVE_INFINITY : Number(row.K);
      const omegas = solveOmegas({
        root: { kind: 'spring', rotationalNmPerRad },
        masses: [{ heightM: Number(row.a), massKg: Number(row.mu) }],
      });
      expectModes(
        omegas,
        pick(row, ['b1', 'b2', 'b3']).map((value) => value * value),
        BENDING_TOLERANCE,
      );
    },
  );

  test.each(readReferenceTable('timoshenko-uniform-cantilever.csv'))(
    'with shear, slenderness $r and E/(kG) $g',
    (row) => {
      const radius = Number(row.r);
      const omegas = solveOmegas({
        sectionAt: () => ({ areaM2: 1, secondMomentM4: radius ** 2 }),
        modulusPa: 1 / radius ** 2,
        shear: { modulusRatio: Number(row.g), coefficient: 1 },
      });
      const wanted = pick(row, ['lam1', 'lam2', 'lam3']);
      // Shear is constant in an element, so its share of the error falls as the square only. Poles have r below 0.01.
      expectModes(omegas.slice(0, 2), wanted.slice(0, 2), radius > 0.02 ? 3e-4 : 6e-5);
      expectModes(omegas, wanted, radius > 0.01 ? 1e-3 : 1.5e-4);
    },
  );

  test.each(readReferenceTable('selfweight-uniform-cantilever.csv'))(
    'under its own weight, gamma $gamma',
    (row) => {
      const omegas = solveOmegas({ gravityMPerS2: Number(row.gamma) });
      // Near buckling (7.837) the first mode is a small difference of large stiffnesses.
      expectModes(
        omegas,
        pick(row, ['lam1', 'lam2', 'lam3']),
        Number(row.gamma) > 7 ? 1e-5 : BENDING_TOLERANCE,
      );
    },
  );

  test('a pole that its own weight buckles is refused', () => {
    expect(() => solveOmegas({ gravityMPerS2: 7.9 })).toThrow('does not stand');
  });

  test('mode shapes are mass-normalised', () => {
    const modes = solvePlane(UNIT_POLE, HIGHEST_HZ);
    // A uniform clamped beam's tip moves 2 in every mode when the mass is 1 (Blevins 1979, from memory).
    for (const mode of [0, 1, 2]) expect(modes.shapeAt(mode, 1)).toBeCloseTo(2, 4);
    expect(modes.shapeAt(0, 0)).toBe(0);
  });
});

describe('root stiffness against closed forms', () => {
  const REACTION = 2e7;
  const MODULUS = 1e10;
  const SECOND_MOMENT = (Math.PI / 64) * 0.3 ** 4;
  const bedded = (
    modulusPa: number,
    settingDepthM: number,
    reactionModulusPaAt: (depthM: number) => number,
  ): PoleModel => ({
    ...UNIT_POLE,
    heightM: 8,
    sectionAt: () => ({ areaM2: 0.07, secondMomentM4: SECOND_MOMENT }),
    modulusPa,
    root: { kind: 'bedded', settingDepthM, reactionModulusPaAt },
  });

  test('a long pole in constant soil is the half-infinite beam on an elastic foundation', () => {
    const beta = (REACTION / (4 * MODULUS * SECOND_MOMENT)) ** 0.25;
    const root = computeRootStiffness(bedded(MODULUS, 8, () => REACTION));
    // 12 elements over 8 m, beta 1.06 per m: a coarse mesh for this long pole, 1e-3.
    expect(root.rotationalNmPerRad / (REACTION / (4 * beta ** 3))).toBeCloseTo(1, 2);
    expect(root.lateralMPerN / ((2 * beta) / REACTION)).toBeCloseTo(1, 2);
    expect(root.crossRadPerN / ((2 * beta ** 2) / REACTION)).toBeCloseTo(1, 2);
  });

  test('a rigid pole turns in the soil as a rigid bar', () => {
    const rigid = 1e15;
    const constant = computeRootStiffness(bedded(rigid, 1.5, () => REACTION));
    expect(constant.rotationalNmPerRad / ((REACTION * 1.5 ** 3) / 12)).toBeCloseTo(1, 4);
    const linear = computeRootStiffness(bedded(rigid, 1.5, (depthM) => REACTION * depthM));
    expect(linear.rotationalNmPerRad / ((REACTION * 1.5 ** 4) / 36)).toBeCloseTo(1, 4);
  });
});
