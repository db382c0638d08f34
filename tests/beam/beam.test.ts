import { describe, expect, test } from 'vitest';
import { buildBeam, createModeSolver, fitStemShape } from '../../core/beam/index.ts';
import { createLargestEigenpairs } from '../../core/beam/largestEigenpairs.ts';

describe('fitStemShape', () => {
  test('draws a straight taper through two girths', () => {
    const shape = fitStemShape(
      [
        { heightM: 1, circumferenceM: 0.9 },
        { heightM: 5, circumferenceM: 0.7 },
      ],
      8,
    );
    expect(shape.heightsM).toEqual([0, 8]);
    expect(shape.diametersM[0]! * Math.PI).toBeCloseTo(0.95, 12);
    expect(shape.diametersM[1]! * Math.PI).toBeCloseTo(0.55, 12);
  });

  test('follows three girths or more, four fifths of the way from their straight line', () => {
    const girths = [0, 4, 8].map((heightM, i) => ({
      heightM,
      circumferenceM: Math.PI * [0.3, 0.26, 0.18][i]!,
    }));
    const { heightsM, diametersM } = fitStemShape(girths, 8);
    // straight line 0.3067, 0.2467, 0.1867: the tape showed -0.0067, +0.0133, -0.0067 beside it
    expect(heightsM).toEqual([0, 4, 8]);
    [0.3067 - 0.8 * 0.0067, 0.2467 + 0.8 * 0.0133, 0.1867 - 0.8 * 0.0067].forEach((d, i) => {
      expect(Math.abs(diametersM[i]! - d)).toBeLessThan(1e-4);
    });
  });

  test('runs on beside the straight line below and above the heights measured', () => {
    const girths = [1, 3, 5].map((heightM, i) => ({
      heightM,
      circumferenceM: Math.PI * [0.3, 0.27, 0.26][i]!,
    }));
    const { heightsM, diametersM } = fitStemShape(girths, 8);
    expect(heightsM).toEqual([0, 1, 3, 5, 8]);
    const slope = (0.26 - 0.3) / 4;
    expect((diametersM[1]! - diametersM[0]!) / 1).toBeCloseTo(slope, 12);
    expect((diametersM[4]! - diametersM[3]!) / 3).toBeCloseTo(slope, 12);
  });

  test('three girths in line are a straight taper', () => {
    const girths = [1, 3, 5].map((heightM) => ({ heightM, circumferenceM: 0.9 - 0.03 * heightM }));
    const { heightsM, diametersM } = fitStemShape(girths, 8);
    heightsM.forEach((h, i) => {
      expect(diametersM[i]! * Math.PI).toBeCloseTo(0.9 - 0.03 * h, 12);
    });
  });

  test.each([
    [[], /two different heights; 0 given/],
    [[{ heightM: 1.7, circumferenceM: 0.8 }], /1 given at 1.7 m/],
  ])('refuses too few girths', (girths, message) => {
    expect(() => fitStemShape(girths, 8)).toThrow(message);
  });

  test('refuses a taper to nothing', () => {
    const girths = [
      { heightM: 0, circumferenceM: 0.9 },
      { heightM: 1, circumferenceM: 0.4 },
    ];
    expect(() => fitStemShape(girths, 8)).toThrow(/taper to nothing/);
  });
});

describe('createModeSolver', () => {
  const system = buildBeam({
    lengthAboveM: 8,
    shape: { heightsM: [0, 8], diametersM: [0.28, 0.2] },
    root: { model: 'spring' },
    shearFlexibility: 17.8,
    massHeightsM: [6],
    springHeightsM: [5],
    selfWeight: true,
  });
  const values = {
    modulusPa: 1e10,
    densityKgPerM3: 600,
    rootStiffness: 2e6,
    massesKg: Float64Array.of(20),
    springsNPerM: Float64Array.of(1000),
  };

  test('frequency goes with the root of stiffness over mass, weight aside', () => {
    const weightless = createModeSolver(buildBeam({ ...system.input, selfWeight: false }), 3);
    weightless.solve(values);
    const before = [...weightless.frequenciesHz];
    weightless.solve({
      modulusPa: 4 * values.modulusPa,
      densityKgPerM3: values.densityKgPerM3,
      rootStiffness: 4 * values.rootStiffness,
      massesKg: values.massesKg,
      springsNPerM: Float64Array.of(4000),
    });
    before.forEach((f, mode) => {
      expect(weightless.frequenciesHz[mode]! / f).toBeCloseTo(2, 9);
    });
  });

  test('first-order change agrees with solving anew', () => {
    const solver = createModeSolver(system, 3);
    const changed = { ...values, massesKg: Float64Array.of(20 * 1.001) };
    solver.solve(changed);
    const wanted = [...solver.frequenciesHz].map(Math.log);
    solver.solve(values);
    const change = new Float64Array(3);
    solver.logFrequencyChange(changed, change);
    wanted.forEach((value, mode) => {
      const exact = value - Math.log(solver.frequenciesHz[mode]!);
      expect(Math.abs(change[mode]! - exact)).toBeLessThan(1e-3 * Math.abs(exact) + 1e-9);
    });
  });

  test('names a pole that cannot stand', () => {
    const solver = createModeSolver(system, 1);
    expect(() => solver.solve({ ...values, rootStiffness: 10, springsNPerM: Float64Array.of(0) })).toThrow(
      /would not stand by itself/,
    );
  });

  test('shapes are at rest at a hinge and largest at the tip in mode 1', () => {
    const solver = createModeSolver(system, 1);
    solver.solve(values);
    const deflectionAt = (heightM: number) =>
      system.deflectionShape(heightM).reduce((sum, value, i) => sum + value * solver.shapes[0]![i]!, 0);
    expect(deflectionAt(0)).toBeCloseTo(0, 12);
    expect(Math.abs(deflectionAt(8))).toBeGreaterThan(Math.abs(deflectionAt(4)));
  });
});

describe('createLargestEigenpairs', () => {
  test('finds the eigenvalues and vectors of a matrix known by hand', () => {
    // 2 -1 0 / -1 2 -1 / 0 -1 2 has 2 - sqrt 2, 2, 2 + sqrt 2, with vectors (1, sqrt 2, 1), (1, 0, -1), (1, -sqrt 2, 1)
    const pairs = createLargestEigenpairs(3, 2);
    expect(pairs.find(Float64Array.of(2, -1, 0, -1, 2, -1, 0, -1, 2))).toBe(true);
    expect(pairs.values[0]).toBeCloseTo(2 + Math.SQRT2, 12);
    expect(pairs.values[1]).toBeCloseTo(2, 12);
    const [first, second] = pairs.vectors;
    expect(first![1]! / first![0]!).toBeCloseTo(-Math.SQRT2, 12);
    expect(Math.hypot(...first!)).toBeCloseTo(1, 12);
    expect(second![2]! / second![0]!).toBeCloseTo(-1, 12);
    expect(Math.abs(second![1]!)).toBeLessThan(1e-12);
  });

  test('takes a diagonal matrix', () => {
    const pairs = createLargestEigenpairs(3, 3);
    expect(pairs.find(Float64Array.of(3, 0, 0, 0, 1, 0, 0, 0, 2))).toBe(true);
    expect([...pairs.values]).toEqual([3, 2, 1]);
    expect(pairs.vectors.map((vector) => [...vector].map(Math.abs))).toEqual([
      [1, 0, 0],
      [0, 0, 1],
      [0, 1, 0],
    ]);
  });
});
