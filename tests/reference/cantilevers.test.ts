/**
 * Natural frequencies of cantilevers against kept tables, each solved from its exact equation to 25 to 30
 * digits and checked by a second method (see the head of each table for the equation and its source:
 * Blevins 1979; Chun 1972; Laura, Pombo & Susemihl 1974; Conway & Dubil 1965; Naguleswaran 1994; Greenhill
 * 1881; Timoshenko 1921). Agreement demanded: 1e-6 relative in modes 1 to 3 unless a line says otherwise.
 */
import { describe, expect, test } from 'vitest';
import {
  type BeamInput,
  buildBeam,
  createModeSolver,
  reduceBeam,
  secondMomentM4,
  staticDeflection,
} from '../../core/beam/index.ts';
import { readReferenceTable } from './readReferenceTable.ts';

const DENSITY = 700;
const MODULUS = 1e10;
const LENGTH = 10;
const BASE_DIAMETER = 0.3;
const SECOND_MOMENT = secondMomentM4(BASE_DIAMETER);
const MASS_PER_LENGTH = (DENSITY * Math.PI * BASE_DIAMETER ** 2) / 4;
/** Stiff enough to be rigid: fixity 1e12 moves a frequency by about 1e-12. */
const RIGID = 1e12;

function frequencyNumbers(
  options: Partial<BeamInput> & {
    fixity?: number;
    massRatios?: number[];
    taper?: number;
    gravityRatio?: number;
  },
): number[] {
  const system = buildBeam({
    lengthAboveM: LENGTH,
    shape: { heightsM: [0, LENGTH], diametersM: [BASE_DIAMETER, BASE_DIAMETER * (options.taper ?? 1)] },
    root: { model: 'spring' },
    shearFlexibility: null,
    massHeightsM: [],
    springHeightsM: [],
    selfWeight: false,
    ...options,
  });
  const solver = createModeSolver(system, 4);
  // scaled weight: gamma = m g L^3 / (E I) is reached by choosing E, which leaves lambda unitless
  const modulusPa =
    options.gravityRatio === undefined
      ? MODULUS
      : (MASS_PER_LENGTH * 9.80665 * LENGTH ** 3) / (options.gravityRatio * SECOND_MOMENT);
  solver.solve({
    modulusPa,
    densityKgPerM3: DENSITY,
    rootStiffness: ((options.fixity ?? RIGID) * modulusPa * SECOND_MOMENT) / LENGTH,
    massesKg: Float64Array.from(options.massRatios ?? [], (mu) => mu * MASS_PER_LENGTH * LENGTH),
    springsNPerM: new Float64Array(0),
  });
  const unit = Math.sqrt((modulusPa * SECOND_MOMENT) / MASS_PER_LENGTH) / LENGTH ** 2;
  return [...solver.frequenciesHz].map((f) => (2 * Math.PI * f) / unit);
}

function expectRelative(actual: number, wanted: number, tolerance: number): void {
  expect(Math.abs(actual / wanted - 1), `${actual} against ${wanted}`).toBeLessThan(tolerance);
}

describe('uniform cantilever', () => {
  const lambdas = frequencyNumbers({});
  test.each(readReferenceTable('uniform-cantilever-roots.csv').slice(0, 4))('mode $n', (row) => {
    expectRelative(lambdas[Number(row.n) - 1]!, Number(row['(beta_n_L)^2']), 1e-6);
  });
});

describe('rotational spring at the root', () => {
  test.each(readReferenceTable('rot-spring-cantilever.csv'))('fixity $K=kL/EI', (row) => {
    const lambdas = frequencyNumbers({ fixity: Number(row['K=kL/EI']) });
    for (const mode of [1, 2, 3]) expectRelative(lambdas[mode - 1]!, Number(row[`b${mode}`]) ** 2, 1e-6);
  });
});

describe('rotational spring at the root, reduced beam', () => {
  const rows = readReferenceTable('rot-spring-cantilever.csv');
  const fixities = rows.map((row) => Number(row['K=kL/EI']));
  const system = buildBeam({
    lengthAboveM: LENGTH,
    shape: { heightsM: [0, LENGTH], diametersM: [BASE_DIAMETER, BASE_DIAMETER] },
    root: { model: 'spring' },
    shearFlexibility: null,
    massHeightsM: [],
    springHeightsM: [],
    selfWeight: false,
  });
  const valuesAt = (fixity: number) => ({
    modulusPa: MODULUS,
    densityKgPerM3: DENSITY,
    rootStiffness: (fixity * MODULUS * SECOND_MOMENT) / LENGTH,
    massesKg: new Float64Array(0),
    springsNPerM: new Float64Array(0),
  });
  const reduced = reduceBeam(system, valuesAt(Math.min(...fixities)), valuesAt(Math.max(...fixities)), 4);
  const solver = createModeSolver(reduced, 4);
  const unit = Math.sqrt((MODULUS * SECOND_MOMENT) / MASS_PER_LENGTH) / LENGTH ** 2;

  test.each(rows)('fixity $K=kL/EI', (row) => {
    solver.solve(valuesAt(Number(row['K=kL/EI'])));
    for (const mode of [1, 2, 3]) {
      const lambda = (2 * Math.PI * solver.frequenciesHz[mode - 1]!) / unit;
      expectRelative(lambda, Number(row[`b${mode}`]) ** 2, 1e-6);
    }
  });
});

describe('mass at the tip', () => {
  test.each(readReferenceTable('tip-mass-cantilever.csv'))('ratio $mu', (row) => {
    const lambdas = frequencyNumbers({ massHeightsM: [LENGTH], massRatios: [Number(row.mu)] });
    for (const mode of [1, 2, 3]) expectRelative(lambdas[mode - 1]!, Number(row[`b${mode}`]) ** 2, 1e-6);
  });
});

describe('mass at a height on a rotational spring', () => {
  // the kept values themselves agree with their second method to 8e-8 in b, so 2e-7 in frequency
  test.each(readReferenceTable('mass-at-height-rot-spring.csv'))('K $K, mu $mu, a $a', (row) => {
    const lambdas = frequencyNumbers({
      fixity: row.K === 'inf' ? RIGID : Number(row.K),
      massHeightsM: [Number(row.a) * LENGTH],
      massRatios: [Number(row.mu)],
    });
    for (const mode of [1, 2, 3]) expectRelative(lambdas[mode - 1]!, Number(row[`b${mode}`]) ** 2, 1e-6);
  });
});

describe('truncated cone, and a cone to a point', () => {
  test.each(readReferenceTable('truncated-cone-cantilever.csv'))('tip over base $alpha', (row) => {
    const lambdas = frequencyNumbers({ taper: Number(row.alpha) });
    for (const mode of [1, 2, 3]) expectRelative(lambdas[mode - 1]!, Number(row[`lam${mode}`]), 1e-6);
  });
});

describe('rotational and lateral spring at the root', () => {
  // the root's parameter is k_theta; the lateral one is K_x E I / L^3 = (K_x / K_theta) k_theta / L^2
  test.each(readReferenceTable('rot-lateral-spring-cantilever.csv'))('Kt $Kt, Kx $Kx', (row) => {
    const lateral = Number(row.Kx) / Number(row.Kt) / LENGTH ** 2;
    const lambdas = frequencyNumbers({
      fixity: Number(row.Kt),
      root: { model: 'matrix', lateral, cross: 0, rotational: 1 },
    });
    for (const mode of [1, 2, 3]) expectRelative(lambdas[mode - 1]!, Number(row[`b${mode}`]) ** 2, 1e-6);
  });
});

describe('tip stiffness of a truncated cone', () => {
  test.each(readReferenceTable('static-cone-cantilever.csv'))('tip over base $alpha', (row) => {
    const system = buildBeam({
      lengthAboveM: LENGTH,
      shape: { heightsM: [0, LENGTH], diametersM: [BASE_DIAMETER, BASE_DIAMETER * Number(row.alpha)] },
      root: { model: 'spring' },
      shearFlexibility: null,
      massHeightsM: [],
      springHeightsM: [],
      selfWeight: false,
    });
    const tipNumber = (fixity: number): number => {
      const deflectionM = staticDeflection(
        system,
        {
          modulusPa: MODULUS,
          densityKgPerM3: DENSITY,
          rootStiffness: (fixity * MODULUS * SECOND_MOMENT) / LENGTH,
          massesKg: new Float64Array(0),
          springsNPerM: new Float64Array(0),
        },
        { forceN: 500, heightM: LENGTH, readAtM: LENGTH },
      );
      return (deflectionM * MODULUS * SECOND_MOMENT) / (500 * LENGTH ** 3);
    };
    expectRelative(tipNumber(RIGID), Number(row.tip_defl_P), 1e-6);
    // head of the table: a rotational spring adds P L^2 / k_theta
    expectRelative(tipNumber(4), Number(row.tip_defl_P) + 1 / 4, 1e-6);
  });
});

describe('shear and rotary inertia', () => {
  test.each(readReferenceTable('timoshenko-uniform-cantilever.csv'))('r $r, g $g', (row) => {
    const length = Math.sqrt(SECOND_MOMENT / ((Math.PI * BASE_DIAMETER ** 2) / 4)) / Number(row.r);
    const system = buildBeam({
      lengthAboveM: length,
      shape: { heightsM: [0, length], diametersM: [BASE_DIAMETER, BASE_DIAMETER] },
      root: { model: 'spring' },
      shearFlexibility: Number(row.g),
      massHeightsM: [],
      springHeightsM: [],
      selfWeight: false,
    });
    const solver = createModeSolver(system, 3);
    solver.solve({
      modulusPa: MODULUS,
      densityKgPerM3: DENSITY,
      rootStiffness: (RIGID * MODULUS * SECOND_MOMENT) / length,
      massesKg: new Float64Array(0),
      springsNPerM: new Float64Array(0),
    });
    const unit = Math.sqrt((MODULUS * SECOND_MOMENT) / MASS_PER_LENGTH) / length ** 2;
    for (const mode of [1, 2, 3]) {
      expectRelative((2 * Math.PI * solver.frequenciesHz[mode - 1]!) / unit, Number(row[`lam${mode}`]), 1e-6);
    }
  });
});

describe('self-weight', () => {
  test.each(readReferenceTable('selfweight-uniform-cantilever.csv').filter((row) => Number(row.gamma) > 0))(
    'gamma $gamma',
    (row) => {
      const lambdas = frequencyNumbers({ selfWeight: true, gravityRatio: Number(row.gamma) });
      // next to buckling lambda1^2 is a small difference of large terms: the kept value itself is good to 1.5e-9 / 0.0048
      const tolerance = Number(row.gamma) > 7 ? 1e-5 : 1e-6;
      for (const mode of [1, 2, 3]) expectRelative(lambdas[mode - 1]!, Number(row[`lam${mode}`]), tolerance);
    },
  );
});
