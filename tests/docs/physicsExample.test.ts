/** The worked example of docs/physics.md: its numbers, worked by hand, against what the program makes of the same pole. */
import { describe, expect, test } from 'vitest';
import {
  buildBeam,
  createModeSolver,
  fitStemShape,
  rootRotationalStiffness,
  secondMomentM4,
  shapeRatio,
  staticDeflection,
} from '../../core/beam/index.ts';
import {
  handbookCalibration,
  medianOf,
  predictCapacity,
  requirementFromClass,
  sectionModulus,
} from '../../core/strength/index.ts';
import { describeSpecies } from '../../core/wood/index.ts';
import { UNMEASURED } from '../strength/unmeasured.ts';
import { lastDigit, readWorkedTables } from './readWorkedTables.ts';

const DIAMETER_M = 0.25;
const CIRCUMFERENCE_M = Math.PI * DIAMETER_M;
const ABOVE_M = 9;
const DEPTH_M = 1.6;
const MODULUS_PA = 1e10;
const DENSITY = 600;
const SUBGRADE = 15e6;

const rows = readWorkedTables('physics.md', '## One pole by hand');

function work(): Map<string, number> {
  const shape = fitStemShape(
    [0, ABOVE_M].map((heightM) => ({ heightM, circumferenceM: CIRCUMFERENCE_M })),
    ABOVE_M,
  );
  const butt = { model: 'coupled', subgrade: 'linear', settingDepthM: DEPTH_M } as const;
  const rootStiffness = rootRotationalStiffness(butt, shape, null)(MODULUS_PA, SUBGRADE);
  const system = buildBeam({
    lengthAboveM: ABOVE_M,
    shape,
    root: { model: 'spring' },
    shearFlexibility: null,
    massHeightsM: [],
    springHeightsM: [],
    selfWeight: false,
  });
  const values = {
    modulusPa: MODULUS_PA,
    densityKgPerM3: DENSITY,
    rootStiffness,
    massesKg: new Float64Array(0),
    springsNPerM: new Float64Array(0),
  };
  const solver = createModeSolver(system, 2);
  solver.solve(values);
  const [first, second] = [solver.frequenciesHz[0]!, solver.frequenciesHz[1]!];
  const bending = MODULUS_PA * secondMomentM4(DIAMETER_M);
  const massPerM = (DENSITY * Math.PI * DIAMETER_M ** 2) / 4;
  const rootOf = (hz: number) => Math.sqrt(2 * Math.PI * hz * ABOVE_M ** 2 * Math.sqrt(massPerM / bending));

  // w(h) + lean theta(h) over w(L) + lean theta(L), solved for the lean
  const heights = { heightM: 4, referenceHeightM: ABOVE_M };
  const shape1 = solver.shapes[0]!;
  const rotationAt = (h: number) => system.rotationShape(h).reduce((sum, r, i) => sum + r * shape1[i]!, 0);
  const deflectionAt = (h: number) =>
    system.deflectionShape(h).reduce((sum, w, i) => sum + w * shape1[i]!, 0);
  const sensed = shapeRatio(system, shape1, heights, first);
  const leanM =
    (sensed * deflectionAt(ABOVE_M) - deflectionAt(4)) / (rotationAt(4) - sensed * rotationAt(ABOVE_M));

  const wood = describeSpecies('douglas-fir');
  const { modulusOfRupturePa } = handbookCalibration.predictModulusOfRupture({
    species: 'douglas-fir',
    modulusPa: { median: MODULUS_PA, logSd: 0.08 },
    moisturePercent: 25,
    temperatureC: 21,
    ageYears: 10,
    treatment: 'creosote',
    ...UNMEASURED,
  });
  const capacity = predictCapacity({
    modulusOfRupturePa,
    leverage: null,
    groundlineCircumferenceM: CIRCUMFERENCE_M,
    circumferenceLogSd: 0.007,
  });
  const required = requirementFromClass({
    classCode: '5',
    lengthM: ABOVE_M + DEPTH_M,
    settingDepthM: DEPTH_M,
  });
  return new Map([
    ['second moment', secondMomentM4(DIAMETER_M)],
    ['bending stiffness', bending],
    ['mass per length', massPerM],
    ['root stiffness', rootStiffness],
    ['fixity', (rootStiffness * ABOVE_M) / bending],
    ['b1', rootOf(first)],
    ['b2', rootOf(second)],
    ['mode 1', first],
    ['mode 2', second],
    ['ratio', second / first],
    [
      'tip deflection under 1 kN',
      staticDeflection(system, values, { forceN: 1000, heightM: ABOVE_M, readAtM: ABOVE_M }),
    ],
    ['lean of a sensor in mode 1', leanM],
    ['median green modulus', wood.modulusGreenPa.median / 1e9],
    ['median green strength', wood.modulusOfRuptureGreenPa.median / 1e6],
    ['strength of this pole', medianOf(modulusOfRupturePa) / 1e6],
    ['section modulus', sectionModulus(CIRCUMFERENCE_M, null).sectionModulusM3],
    ['capacity', capacity.groundlineMomentNm.value / 1e3],
    ['class moment', required.groundlineMomentNm / 1e3],
  ]);
}

describe('one pole by hand', () => {
  const worked = work();

  test('names each quantity that is repeated', () => {
    expect(rows.map((row) => row.quantity)).toEqual([...worked.keys()]);
  });

  test.each(rows)('$quantity is $printed', ({ quantity, printed }) => {
    expect(Math.abs(worked.get(quantity)! - Number(printed))).toBeLessThan(lastDigit(printed));
  });
});
