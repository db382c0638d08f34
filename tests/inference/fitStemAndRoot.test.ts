/**
 * Recovery of known answers. The frequencies come from the samples' finite elements, which share no code with
 * the program's beam; invented poles, so a test of the method, not a claim about real ones.
 */
import { describe, expect, test } from 'vitest';
import {
  assignModes,
  type FrequencyTable,
  fitRoots,
  fitStemAndRoot,
  type Pick,
  type PoleModel,
  type StemRootPosterior,
  summarisePosterior,
  tabulateFrequencies,
} from '../../core/inference/index.ts';
import { computeRootStiffness, SHEAR_OF_WOOD, solvePlane } from '../../samples/simulator/index.ts';
import { makeModel } from './makeModel.ts';

const TRUE_MODULUS_PA = 1.2e10;
const TRUE_N_H = 1.5e7;

/** The pole of makeModel as elements, with its density and a modulus and soil of our choice. */
function elementsOf(model: PoleModel, modulusPa = TRUE_MODULUS_PA, nH = TRUE_N_H) {
  const tipM = model.lengthM - model.settingDepthM;
  const [d0, d1] = model.shape.diametersM as [number, number];
  return {
    heightM: tipM,
    sectionAt: (h: number) => {
      const d = d0 + ((d1 - d0) * h) / tipM;
      return { areaM2: (Math.PI * d ** 2) / 4, secondMomentM4: (Math.PI * d ** 4) / 64 };
    },
    modulusPa,
    densityKgPerM3: model.density.median,
    shear: SHEAR_OF_WOOD,
    gravityMPerS2: 9.80665,
    root: {
      kind: 'bedded' as const,
      settingDepthM: model.settingDepthM,
      reactionModulusPaAt: (z: number) => nH * z,
    },
    springs: [],
    masses: model.masses.map(({ heightM, massKg }) => ({ heightM, massKg })),
  };
}

/** Summary under one root model. */
function summarise(at: FrequencyTable, picks: readonly Pick[]) {
  return summarisePosterior(fitRoots([at], picks), fitRoots([at], []));
}

function momentsOverModulus({ lnModulus, weights }: StemRootPosterior): { mean: number; sd: number } {
  const over = (power: number) =>
    weights.reduce((sum, w, at) => sum + w * lnModulus[at % lnModulus.length]! ** power, 0);
  return { mean: over(1), sd: Math.sqrt(over(2) - over(1) ** 2) };
}

function picksOf(frequenciesHz: readonly number[], numbers: readonly number[], planes = [0, 1]): Pick[] {
  return planes.flatMap((plane) =>
    numbers.map((number) => {
      const frequencyHz = frequenciesHz[number - 1]!;
      return { plane, number, frequencyHz, sdHz: 0.001 * frequencyHz };
    }),
  );
}

const model = makeModel();
const table = tabulateFrequencies(model, [0, 90]);
const elements = elementsOf(model);
const frequenciesHz = solvePlane(elements, 200).frequenciesHz;
const trueStiffness = computeRootStiffness(elements).rotationalNmPerRad;

describe('fitStemAndRoot', () => {
  test('without picks gives back the prior', () => {
    const { modulusPa, rootStiffness, identifiability } = summarise(table, []);
    const z = 1.6449;
    expect(modulusPa.value / model.modulus.median).toBeCloseTo(1, 2);
    expect(modulusPa.high / (model.modulus.median * Math.exp(z * model.modulus.logSd))).toBeCloseTo(1, 1);
    expect(rootStiffness.value / model.rootStiffness.median).toBeCloseTo(1, 1);
    expect(identifiability.verdict).toBe('not separated');
  });

  test('recovers stem and root from three modes of two planes', () => {
    const summary = summarise(table, picksOf(frequenciesHz, [1, 2, 3]));
    expect(summary.modulusPa.low).toBeLessThan(TRUE_MODULUS_PA);
    expect(summary.modulusPa.high).toBeGreaterThan(TRUE_MODULUS_PA);
    expect(summary.rotationalStiffnessNmPerRad.low).toBeLessThan(trueStiffness);
    expect(summary.rotationalStiffnessNmPerRad.high).toBeGreaterThan(trueStiffness);
    expect(summary.identifiability.verdict).toBe('separated');
    expect(summary.identifiability.stem).toBeGreaterThan(0.2);
  });

  test('a measured density narrows the stem', () => {
    const measured = makeModel({ measured: { densityKgPerM3: model.density.median } });
    const picks = picksOf(frequenciesHz, [1, 2, 3]);
    const narrow = summarise(tabulateFrequencies(measured, [0, 90]), picks);
    const wide = summarise(table, picks);
    expect(narrow.lnModulus.sd).toBeLessThan(0.85 * wide.lnModulus.sd);
    expect(narrow.modulusPa.low).toBeLessThan(TRUE_MODULUS_PA);
    expect(narrow.modulusPa.high).toBeGreaterThan(TRUE_MODULUS_PA);
  });

  test('one mode cannot separate stem from root', () => {
    const summary = summarise(table, picksOf(frequenciesHz, [1]));
    expect(summary.identifiability.verdict).toBe('not separated');
    expect(summary.identifiability.advice).toMatch(/Mode 2 is missing/);
  });

  test('a spring root forced on a bedded pole puts the soil’s give on the stem', () => {
    const spring = makeModel({ options: { root: 'spring' } });
    const picks = picksOf(frequenciesHz, [1, 2, 3]);
    const forced = summarise(tabulateFrequencies(spring, [0, 90]), picks);
    const bedded = summarise(table, picks);
    expect(forced.modulusPa.value).toBeLessThan(0.93 * bedded.modulusPa.value);
  });

  test.each([1.25, 7])(
    'a pick %d times too high moves root and density no more than one that is not there',
    (factor) => {
      const right = picksOf(frequenciesHz, [1, 2, 3]);
      const wrong = right.map((pick, i) =>
        i === 0 ? { ...pick, frequencyHz: factor * pick.frequencyHz } : pick,
      );
      const [found, without] = [summarise(table, wrong), summarise(table, right.slice(1))];
      for (const quantity of ['rotationalStiffnessNmPerRad', 'densityKgPerM3', 'fixity'] as const) {
        const { low, high } = without[quantity];
        // a fifth of its own interval: beside the odd pick a chance is left that another one is odd
        expect(Math.abs(found[quantity].value - without[quantity].value)).toBeLessThan((high - low) / 5);
      }
      expect(found.softRootChance).toBeCloseTo(without.softRootChance, 1);
    },
  );

  test('a single pick that is odd leaves density as it was', () => {
    const [pick] = picksOf(frequenciesHz, [1], [0]);
    const { lnDensity, results } = fitStemAndRoot(table, [{ ...pick!, frequencyHz: 7 * pick!.frequencyHz }]);
    expect(results[0]!.oddChance).toBeGreaterThan(0.9);
    expect(lnDensity.mean).toBe(0);
  });

  test('one wrong pick among six is named and moves the stem by less than its interval', () => {
    const right = picksOf(frequenciesHz, [1, 2, 3]);
    const wrong = right.map((pick, i) =>
      i === 1 ? { ...pick, frequencyHz: 1.25 * pick.frequencyHz } : pick,
    );
    const good = summarise(table, right);
    const posterior = fitStemAndRoot(table, wrong);
    expect(posterior.results[1]!.oddChance).toBeGreaterThan(0.9);
    expect(posterior.results[0]!.oddChance).toBeLessThan(0.1);
    const { modulusPa } = summarise(table, wrong);
    expect(Math.abs(modulusPa.value - good.modulusPa.value)).toBeLessThan(
      (good.modulusPa.high - good.modulusPa.low) / 2,
    );
  });

  describe.each([
    { four: 'modes 1 and 2 of two planes', right: picksOf(frequenciesHz, [1, 2]) },
    { four: 'modes 2 and 3 of two planes', right: picksOf(frequenciesHz, [2, 3]) },
    { four: 'modes 1 to 4 of one plane', right: picksOf(frequenciesHz, [1, 2, 3, 4], [0]) },
  ])('one wrong pick among four: $four', ({ right }) => {
    const good = summarise(table, right).modulusPa;
    const cases = right.flatMap((_, wrongAt) =>
      [0.5, 0.75, 0.9, 0.95, 1.05, 1.1, 1.3, 2].map((factor) => ({ wrongAt, factor })),
    );

    test.each(cases)(
      'pick $wrongAt times $factor is named, or moves E by less than its interval',
      ({ wrongAt, factor }) => {
        const picks = right.map((pick, i) =>
          i === wrongAt ? { ...pick, frequencyHz: factor * pick.frequencyHz } : pick,
        );
        const chances = fitStemAndRoot(table, picks).results.map(({ oddChance }) => oddChance);
        const isNamed = chances[wrongAt]! > 0.5 && chances[wrongAt] === Math.max(...chances);
        const { value } = summarise(table, picks).modulusPa;
        const movesLittle = Math.abs(value - good.value) < good.high - good.low;
        expect(isNamed || movesLittle).toBe(true);
      },
    );
  });

  test('modes that fit no stem and root widen the interval', () => {
    const right = picksOf(frequenciesHz, [1, 2, 3, 4]);
    const bent = right.map((pick) => ({
      ...pick,
      frequencyHz: pick.frequencyHz * [1.1, 0.9, 1.1, 0.9][pick.number - 1]!,
    }));
    const posterior = fitStemAndRoot(table, bent);
    expect(posterior.widening).toBeGreaterThan(2);
    const sdOf = (widening: number | null) => {
      const fit = fitStemAndRoot(table, bent, [], widening);
      return momentsOverModulus(fit).sd;
    };
    expect(sdOf(null)).toBeGreaterThan(1.05 * sdOf(1));
  });

  test('modes as the model has them widen nothing', () => {
    const posterior = fitStemAndRoot(table, picksOf(frequenciesHz, [1, 2, 3]));
    expect(posterior.misfit).toBeLessThan(1);
    expect(posterior.widening).toBe(1);
  });

  test('the root is told no better than its setting depth allows', () => {
    // k_theta of a rigid butt in n_h z is n_h D^4/36: ln k_theta spreads by that of n_h and by 4 sd(D)/D
    const priors = { settingDepthM: { median: 1.6, sd: 0.16 }, soilModulus: { median: 2e7, logSd: 0.3 } };
    const rigid = tabulateFrequencies(makeModel({ options: { root: 'coupled', priors } }), [0]);
    const expected = summarise(rigid, []).expectedRotationalStiffnessNmPerRad;
    const sd = Math.log(expected.high / expected.low) / (2 * 1.6449);
    expect(sd).toBeCloseTo(Math.hypot(0.3, 4 * 0.1), 1);
    expect(expected.value / ((2e7 * 1.6 ** 4) / 36)).toBeCloseTo(1, 1);
  });

  test('weights are a distribution and the same twice', () => {
    const once = fitStemAndRoot(table, picksOf(frequenciesHz, [1, 2]));
    const twice = fitStemAndRoot(table, picksOf(frequenciesHz, [1, 2]));
    expect(once.weights.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 10);
    expect(once.weights).toEqual(twice.weights);
  });
});

describe('assignModes', () => {
  const unnumbered = (list: readonly number[], plane: number) =>
    list.map((frequencyHz) => ({ plane, frequencyHz, sdHz: 0.001 * frequencyHz, fixedNumber: null }));
  const [f1, f2, f3] = frequenciesHz as [number, number, number];

  test('numbers three modes of both planes', () => {
    const best = assignModes(table, [...unnumbered([f1, f2, f3], 0), ...unnumbered([f1, f2, f3], 1)])[0]!;
    expect(best.numbers).toEqual([1, 2, 3, 1, 2, 3]);
    expect(best.probability).toBeGreaterThan(0.9);
  });

  test('leaves the number 1 free where the hammer lit modes 2 and 3 only', () => {
    const best = assignModes(table, unnumbered([f2, f3], 0))[0]!;
    expect(best.numbers).toEqual([2, 3]);
  });

  test('passes over a peak between the modes', () => {
    const best = assignModes(table, unnumbered([f1, 0.6 * f2, f2, f3], 0))[0]!;
    expect(best.numbers).toEqual([1, null, 2, 3]);
  });

  test('keeps the number that an analyst gave', () => {
    const picks = unnumbered([f1, f2, f3], 0).map((pick, i) =>
      i === 2 ? { ...pick, fixedNumber: 4 } : pick,
    );
    expect(assignModes(table, picks)[0]!.numbers[2]).toBe(4);
  });

  test('a number that cannot be takes nothing from the other plane', () => {
    const set = { plane: 0, frequencyHz: f2, sdHz: 0.001 * f2, fixedNumber: 1 };
    const [best] = assignModes(table, [set, ...unnumbered([f1, f2, f3], 1)]);
    expect(best!.numbers).toEqual([1, 1, 2, 3]);
  });

  test('a number that can be counts for its like in the other plane', () => {
    const set = { plane: 0, frequencyHz: f3, sdHz: 0.001 * f3, fixedNumber: 3 };
    expect(assignModes(table, [set, ...unnumbered([f3], 1)])[0]!.numbers).toEqual([3, 3]);
  });

  test('probabilities of all ways sum to one, most probable first', () => {
    const ways = assignModes(table, unnumbered([f1, f2, f3], 0));
    expect(ways.reduce((sum, way) => sum + way.probability, 0)).toBeCloseTo(1, 10);
    for (let i = 1; i < ways.length; i++)
      expect(ways[i]!.probability).toBeLessThanOrEqual(ways[i - 1]!.probability);
  });

  test('no picks have one way', () => {
    expect(assignModes(table, [])).toEqual([{ numbers: [], probability: 1 }]);
  });
});
