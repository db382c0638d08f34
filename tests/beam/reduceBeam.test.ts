/** The reduced beam against the full one that it was made from, over the whole of its ranges. */
import { describe, expect, test } from 'vitest';
import {
  type BeamValues,
  buildBeam,
  createModeSolver,
  type RootForm,
  reduceBeam,
  staticDeflection,
} from '../../core/beam/index.ts';
import { createUniform } from '../modal/makeDecay.ts';

const LENGTH_M = 8.5;
const ROOTS: { name: string; root: RootForm; rootStiffness: number }[] = [
  { name: 'spring', root: { model: 'spring' }, rootStiffness: 2e6 },
  {
    name: 'coupled',
    root: { model: 'coupled', subgrade: 'linear', settingDepthM: 1.7 },
    rootStiffness: 2e7,
  },
  {
    name: 'bedded, linear',
    root: { model: 'bedded', subgrade: 'linear', settingDepthM: 1.7 },
    rootStiffness: 2e7,
  },
  {
    name: 'bedded, constant',
    root: { model: 'bedded', subgrade: 'constant', settingDepthM: 1.7 },
    rootStiffness: 9e6,
  },
];

function makeBeam(root: RootForm, baseM = 0.28) {
  return buildBeam({
    lengthAboveM: LENGTH_M,
    shape: { heightsM: [0, LENGTH_M], diametersM: [baseM, 0.19] },
    root,
    shearFlexibility: 17.8,
    massHeightsM: [2, 6.1],
    springHeightsM: [5.4],
    selfWeight: true,
  });
}

/** Values at these places of their ranges, 0 to 1: root over stem by 8100, E by 2.7, density 1.6, masses 4, spring 20. */
function valuesAt(
  rootStiffness: number,
  [root, stem, density, mass, spring]: readonly [number, number, number, number, number],
): BeamValues {
  const within = (middle: number, factor: number, place: number) => middle * factor ** (place - 0.5);
  const modulusPa = within(1.05e10, 2.7, stem);
  return {
    modulusPa,
    densityKgPerM3: within(620, 1.6, density),
    rootStiffness: (modulusPa / 1.05e10) * within(rootStiffness, 8100, root),
    massesKg: Float64Array.from([0.4, 35], (kg) => within(kg, 4, mass)),
    springsNPerM: Float64Array.of(within(1800, 20, spring)),
  };
}

describe.each(ROOTS)('$name', ({ root, rootStiffness }) => {
  const system = makeBeam(root);
  const low = valuesAt(rootStiffness, [0, 0, 0, 0, 0]);
  const high = valuesAt(rootStiffness, [1, 1, 1, 1, 1]);
  const reduced = reduceBeam(system, low, high, 4);
  const full = createModeSolver(system, 4);
  const fast = createModeSolver(reduced, 4);

  test('is half the size or less', () => {
    expect(reduced.size).toBeLessThanOrEqual(system.size / 2);
  });

  test('keeps modes 1 to 3 to 1e-6 anywhere and in every corner of the ranges, never below', () => {
    const uniform = createUniform(5);
    for (let trial = 0; trial < 400; trial++) {
      const place = () => (trial % 2 === 0 ? uniform() : Math.round(uniform()));
      const values = valuesAt(rootStiffness, [uniform(), place(), place(), place(), place()]);
      full.solve(values);
      fast.solve(values);
      for (const mode of [0, 1, 2]) {
        const relative = fast.frequenciesHz[mode]! / full.frequenciesHz[mode]! - 1;
        expect(relative, `mode ${mode + 1}`).toBeLessThan(1e-6);
        expect(relative).toBeGreaterThan(-1e-9);
      }
    }
  });

  test('keeps shapes and first-order changes', () => {
    const values = valuesAt(rootStiffness, [0.4, 0.5, 0.5, 0.5, 0.5]);
    const changed = { ...values, massesKg: values.massesKg.map((kg) => kg * 1.01) };
    full.solve(values);
    fast.solve(values);
    const [wanted, change] = [new Float64Array(4), new Float64Array(4)];
    full.logFrequencyChange(changed, wanted);
    fast.logFrequencyChange(changed, change);
    const deflectionAt = (of: typeof system, shape: Float64Array, heightM: number) =>
      of.deflectionShape(heightM).reduce((sum, value, i) => sum + value * shape[i]!, 0);
    for (const mode of [0, 1, 2]) {
      expect(Math.abs(change[mode]! - wanted[mode]!)).toBeLessThan(1e-5 * Math.abs(wanted[0]!));
      const ratio = (of: typeof system, shape: Float64Array) =>
        deflectionAt(of, shape, 2) / deflectionAt(of, shape, LENGTH_M);
      const difference = ratio(reduced, fast.shapes[mode]!) - ratio(system, full.shapes[mode]!);
      expect(Math.abs(difference), `mode ${mode + 1}`).toBeLessThan(3e-4);
    }
  });
});

test('serves a beam of slightly other girth in the same shapes', () => {
  const { root, rootStiffness } = ROOTS[2]!;
  const system = makeBeam(root);
  const low = valuesAt(rootStiffness, [0, 0.5, 0.5, 0.5, 0.5]);
  const high = valuesAt(rootStiffness, [1, 0.5, 0.5, 0.5, 0.5]);
  const reduced = reduceBeam(system, low, high, 4);
  const thicker = makeBeam(root, 0.281);
  const values = valuesAt(rootStiffness, [0.4, 0.5, 0.5, 0.5, 0.5]);
  const frequencies = [reduced, reduced.reduceLike(thicker.input), system, thicker].map((beam) => {
    const solver = createModeSolver(beam, 3);
    solver.solve(values);
    return [...solver.frequenciesHz];
  });
  for (const mode of [0, 1, 2]) {
    const [before, after, wantedBefore, wantedAfter] = frequencies.map((hz) => hz[mode]!);
    const wanted = Math.log(wantedAfter! / wantedBefore!);
    expect(Math.abs(Math.log(after! / before!) / wanted - 1), `mode ${mode + 1}`).toBeLessThan(5e-3);
  }
});

describe.each(ROOTS)('under a pull: $name', ({ root, rootStiffness }) => {
  const system = makeBeam(root);
  const low = valuesAt(rootStiffness, [0, 0, 0, 0, 0]);
  const high = valuesAt(rootStiffness, [1, 1, 1, 1, 1]);
  const reduced = reduceBeam(system, low, high, 4);
  const pull = { forceN: 100, heightM: 5, readAtM: 5 };
  // a spring of 0 N/m gives the functions of the full beam the kink that a pull makes
  const { input } = system;
  const kinked = buildBeam({ ...input, springHeightsM: [...input.springHeightsM, pull.heightM] });

  test('keeps the deflection where it pulls to 1e-3 over the ranges, never above', () => {
    const uniform = createUniform(6);
    for (let trial = 0; trial < 100; trial++) {
      const values = valuesAt(rootStiffness, [uniform(), uniform(), uniform(), uniform(), uniform()]);
      const springsNPerM = Float64Array.of(...values.springsNPerM, 0);
      const wanted = staticDeflection(kinked, { ...values, springsNPerM }, pull);
      const relative = staticDeflection(reduced, values, pull) / wanted - 1;
      expect(relative).toBeLessThan(1e-9);
      expect(relative).toBeGreaterThan(-1e-3);
    }
  });

  test('serves a slightly thicker and a slightly deeper beam', () => {
    const deeper = root.model === 'spring' ? root : { ...root, settingDepthM: root.settingDepthM + 0.01 };
    const values = valuesAt(rootStiffness, [0.4, 0.5, 0.5, 0.5, 0.5]);
    const [before, reducedBefore] = [system, reduced].map((beam) => staticDeflection(beam, values, pull));
    for (const changed of [makeBeam(root, 0.281), makeBeam(deeper)]) {
      const wanted = Math.log(staticDeflection(changed, values, pull) / before!);
      const change = Math.log(
        staticDeflection(reduced.reduceLike(changed.input), values, pull) / reducedBefore!,
      );
      expect(Math.abs(change - wanted)).toBeLessThan(5e-3 * Math.abs(wanted) + 1e-6);
    }
  });
});

test('refuses a range from high to low', () => {
  const system = makeBeam({ model: 'spring' });
  const low = valuesAt(2e6, [0, 0, 0, 0, 0]);
  const high = valuesAt(2e6, [1, 1, 1, 1, 1]);
  expect(() => reduceBeam(system, high, low, 4)).toThrow(/expected a rising range/);
});
