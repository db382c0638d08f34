/**
 * Choice of the root model. Frequencies come from the samples' finite elements, which share no code with the program's beam.
 */
import { describe, expect, test } from 'vitest';
import {
  describePole,
  fitRoots,
  listPriors,
  overridePriors,
  type Pick,
  rootModelsOf,
  summarisePosterior,
  tabulateFrequencies,
} from '../../core/inference/index.ts';
import type { VisitFile } from '../../core/recording/index.ts';
import { SHEAR_OF_WOOD, solvePlane } from '../../samples/simulator/index.ts';
import { makeModel, makeVisit } from './makeModel.ts';

const TRUE_MODULUS_PA = 1.1e10;

/** Picks of modes 1 and 2 in both planes of a pole that hinges on a rotational spring. */
function picksOfHinge(): Pick[] {
  const model = makeModel();
  const tipM = model.lengthM - model.settingDepthM;
  const [d0, d1] = model.shape.diametersM as [number, number];
  const { frequenciesHz } = solvePlane(
    {
      heightM: tipM,
      sectionAt: (h) => {
        const d = d0 + ((d1 - d0) * h) / tipM;
        return { areaM2: (Math.PI * d ** 2) / 4, secondMomentM4: (Math.PI * d ** 4) / 64 };
      },
      modulusPa: TRUE_MODULUS_PA,
      densityKgPerM3: model.density.median,
      shear: SHEAR_OF_WOOD,
      gravityMPerS2: 9.80665,
      root: { kind: 'spring', rotationalNmPerRad: 2.5e6 },
      springs: [],
      masses: model.masses.map(({ heightM, massKg }) => ({ heightM, massKg })),
    },
    100,
  );
  return [0, 1].flatMap((plane) =>
    [1, 2].map((number) => {
      const frequencyHz = frequenciesHz[number - 1]!;
      return { plane, number, frequencyHz, sdHz: 0.001 * frequencyHz };
    }),
  );
}

function fitVisit(visit: VisitFile, picks: readonly Pick[]) {
  const tables = rootModelsOf(visit).map((root) => tabulateFrequencies(describePole(visit, root), [0, 90]));
  const mixture = fitRoots(tables, picks);
  const chances = Object.fromEntries(
    mixture.map(({ posterior, probability }) => [posterior.table.model.root.model, probability]),
  );
  return { chances, summary: summarisePosterior(mixture, fitRoots(tables, [])) };
}

describe('fitRoots', () => {
  test('without picks gives back the chances that the priors have', () => {
    const { chances } = fitVisit(makeVisit(), []);
    const listed = rootModelsOf(makeVisit()).map((root) => makeModelOf(root).rootChance.chance);
    expect(listed.reduce((a, b) => a + b)).toBeCloseTo(1, 12);
    expect([chances.bedded, chances.coupled, chances.spring]).toEqual(
      listed.map((c) => expect.closeTo(c, 3)),
    );
  });

  test('leaves open what two modes cannot tell: the interval holds the truth and the verdict is one-sided', () => {
    const { chances, summary } = fitVisit(makeVisit(), picksOfHinge());
    expect(chances.spring).toBeGreaterThan(0.2);
    expect(summary.modulusPa.low).toBeLessThan(TRUE_MODULUS_PA);
    expect(summary.modulusPa.high).toBeGreaterThan(TRUE_MODULUS_PA);
    expect(summary.identifiability.verdict).toBe('one-sided');
    expect(summary.identifiability.advice).toMatch(
      /leave open how the pole is held: .* GPa, a .* root .* GPa/,
    );
  });

  test('is settled where the visit says how the pole is held', () => {
    const { summary } = fitVisit(makeVisit({ options: { root: 'spring' } }), picksOfHinge());
    expect(summary.identifiability.verdict).toBe('separated');
    expect(Math.abs(Math.log(summary.modulusPa.value / TRUE_MODULUS_PA))).toBeLessThan(0.1);
  });

  test('weighs by chances of the visit, and leaves out a root that has none', () => {
    const visit = overridePriors(makeVisit(), { rootModels: { bedded: 0.5, coupled: 0, spring: 0.5 } });
    expect(rootModelsOf(visit)).toEqual(['bedded', 'spring']);
    const { chances } = fitVisit(visit, []);
    expect(chances.bedded).toBeCloseTo(0.5, 3);
    expect(listPriors(describePole(visit, 'spring'))).toContainEqual(
      expect.objectContaining({ setBy: 'options.priors.rootModels.spring', median: 0.5, isGiven: true }),
    );
  });

  test('refuses chances that rule out every root', () => {
    expect(() => overridePriors(makeVisit(), { rootModels: { bedded: 0, coupled: 0, spring: 0 } })).toThrow(
      /at least one root model must be possible/,
    );
  });
});

function makeModelOf(root: 'spring' | 'coupled' | 'bedded') {
  return describePole(makeVisit(), root);
}
