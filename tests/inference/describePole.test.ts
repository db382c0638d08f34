import { describe, expect, test } from 'vitest';
import { describePole, listPriors, overridePriors } from '../../core/inference/index.ts';
import { makeModel, makeVisit } from './makeModel.ts';

describe('setting depth', () => {
  test('is the distance from butt to tag less the height of the tag', () => {
    expect(makeModel().settingDepthM).toBeCloseTo(1.67, 12);
  });

  test('follows the rule of thumb where no tag was measured, less surely', () => {
    const untagged = makeModel({ measured: { tagHeightM: null } });
    expect(untagged.settingDepthM).toBeCloseTo(0.1 * 10.67 + 0.6, 12);
    expect(untagged.settingDepthSdM).toBeGreaterThan(makeModel().settingDepthSdM);
  });

  test('refuses a tag below the butt', () => {
    expect(() => makeModel({ measured: { tagHeightM: 4 } })).toThrow(/comes out as -0.80 m/);
  });
});

describe('shell', () => {
  test.each([0.15, 0.9])('of %s m in a pole of 0.14 m radius is refused', (shellThicknessM) => {
    expect(() => makeModel({ measured: { shellThicknessM } })).toThrow(
      /shellThicknessM: .* more than the radius at ground line, 0\.13\d m/,
    );
  });

  test('of the radius, read a little too thick, is that of a solid pole', () => {
    const radiusM = makeModel().shape.diametersM[0]! / 2;
    expect(() => makeModel({ measured: { shellThicknessM: 1.04 * radiusM } })).not.toThrow();
  });
});

describe('stem', () => {
  test('goes straight through girth and tip', () => {
    const { shape } = makeModel();
    const tipM = 10.67 - 1.67;
    const girthAt = (h: number) =>
      Math.PI * (shape.diametersM[0]! + ((shape.diametersM[1]! - shape.diametersM[0]!) * h) / tipM);
    expect(girthAt(1.7)).toBeCloseTo(0.8, 12);
    expect(girthAt(tipM)).toBeCloseTo(0.56, 12);
  });

  test('keeps the measured girth where only the tip is in doubt', () => {
    const model = makeModel({ measured: { topCircumferenceM: null } });
    const shape = model.shapeForTip(0.02);
    const tipM = 10.67 - 1.67;
    const at = (s: typeof shape, h: number) =>
      s.diametersM[0]! + ((s.diametersM[1]! - s.diametersM[0]!) * h) / tipM;
    expect(at(shape, 1.7)).toBeCloseTo(at(model.shape, 1.7), 12);
    expect(shape.diametersM[1]! - model.shape.diametersM[1]!).toBeCloseTo(0.02, 12);
  });

  test('a tip that nobody measured is less sure', () => {
    expect(makeModel({ measured: { topCircumferenceM: null } }).tipDiameterSdM).toBeGreaterThan(
      2 * makeModel().tipDiameterSdM,
    );
  });
});

describe('root', () => {
  test('is bedded first unless the visit asks for another', () => {
    expect(makeModel().root).toEqual({
      model: 'bedded',
      subgrade: 'linear',
      settingDepthM: expect.closeTo(1.67),
    });
    expect(makeModel({ options: { root: 'spring' } }).root).toEqual({ model: 'spring' });
  });

  test('clay is a constant subgrade', () => {
    expect(makeModel({ measured: { soil: 'stiff-clay' } }).root).toMatchObject({ subgrade: 'constant' });
  });
});

describe('what hangs on the pole', () => {
  test('cables without numbers get wide priors, all of their count together', () => {
    const cable = { kind: 'aerial', count: 2, heightM: 6, azimuthDeg: 90 };
    const { cables, masses } = makeModel({ measured: { cables: [cable] } });
    expect(cables).toHaveLength(1);
    expect(cables[0]!.logSd).toBeGreaterThan(0.5);
    expect(masses.map((m) => m.heightM)).toEqual([2, 6]);
    const single = makeModel({ measured: { cables: [{ ...cable, count: 1 }] } });
    expect(cables[0]!.stiffnessNPerM).toBe(2 * single.cables[0]!.stiffnessNPerM);
  });
});

describe('priors of the user', () => {
  test('stand in for the tabulated ones and say so', () => {
    const priors = { modulusPa: { median: 9e9, logSd: 0.1 }, soilModulus: { median: 3e7, logSd: 0.5 } };
    const model = makeModel({ options: { priors } });
    expect(model.modulus).toEqual({ ...priors.modulusPa, source: 'given in options.priors of the visit' });
    expect(model.rootStiffness).toMatchObject(priors.soilModulus);
    expect(model.density).toEqual(makeModel().density);
  });

  test('are listed with their 90 % range, unit and source', () => {
    const [modulus, density] = listPriors(
      makeModel({ options: { priors: { modulusPa: { median: 9e9, logSd: 0.1 } } } }),
    );
    expect(modulus).toMatchObject({ name: 'stem modulus', median: 9e9, unit: 'Pa' });
    expect(modulus!.high / modulus!.median).toBeCloseTo(Math.exp(0.16449), 4);
    expect(density!.source).not.toBe('');
  });

  test('of the depth and the tip stand in for tag and tape', () => {
    const priors = { settingDepthM: { median: 1.5, sd: 0.2 }, tipGirthM: { median: 0.5, sd: 0.03 } };
    const model = makeModel({ options: { priors } });
    expect(model.settingDepthM).toBe(1.5);
    expect(model.settingDepthSdM).toBe(0.2);
    expect(Math.PI * model.shape.diametersM.at(-1)!).toBeCloseTo(0.5, 12);
    expect(Math.PI * model.tipDiameterSdM).toBeCloseTo(0.03, 12);
  });

  test('refuse a depth of more than half of the pole', () => {
    const priors = { settingDepthM: { median: 5.5, sd: 0.2 } };
    expect(() => makeModel({ options: { priors } })).toThrow(/given as 5.5 m .* less than half .* 10.67 m/);
  });

  test('are listed with the field that sets each, and whether the visit does', () => {
    const measured = {
      attachments: [{ heightM: 6, massKg: 30 }],
      cables: [{ kind: 'aerial', heightM: 6, azimuthDeg: 0, lateralStiffnessNPerM: 1500 }],
    };
    const priors = { densityKgPerM3: { median: 640, logSd: 0.04 } };
    const listed = listPriors(makeModel({ measured, options: { priors } }));
    expect(listed.map(({ setBy, isGiven }) => [setBy, isGiven])).toEqual([
      ['options.priors.modulusPa', false],
      ['options.priors.densityKgPerM3', true],
      ['options.priors.soilModulus', false],
      ['options.priors.rootModels.bedded', false],
      ['options.priors.settingDepthM', false],
      ['measured.circumferences', true],
      ['options.priors.tipGirthM', false],
      ['measured.sensorMassKg', true],
      ['measured.attachments[0].massKg', true],
      ['measured.cables[0].massKg', false],
      ['measured.cables[0].lateralStiffnessNPerM', true],
    ]);
    expect(listed[1]!.spread).toEqual({ of: 'ln', sd: 0.04 });
    expect(listed[4]!.spread).toEqual({ of: 'value', sd: makeModel().settingDepthSdM });
  });
});

describe('overridePriors', () => {
  const given = { median: 9e9, logSd: 0.1 };

  test('leads to the same pole as a visit file that holds them', () => {
    const visit = overridePriors(makeVisit(), { modulusPa: given });
    expect(visit).toEqual(makeVisit({ options: { priors: { modulusPa: given } } }));
    expect(describePole(visit, 'bedded').modulus).toMatchObject(given);
  });

  test('keeps what is not named and takes back what is null', () => {
    const both = overridePriors(makeVisit(), { modulusPa: given, tipGirthM: { median: 0.5, sd: 0.02 } });
    expect(overridePriors(both, { modulusPa: null }).options.priors).toEqual({
      tipGirthM: { median: 0.5, sd: 0.02 },
    });
    expect(overridePriors(both, { modulusPa: null, tipGirthM: null })).toEqual(makeVisit());
  });

  test('changes nothing for no changes', () => {
    expect(overridePriors(makeVisit(), {})).toEqual(makeVisit());
  });

  test('refuses a value out of range by its field', () => {
    expect(() => overridePriors(makeVisit(), { densityKgPerM3: { median: 6, logSd: 0.1 } })).toThrow(
      /field options.priors.densityKgPerM3.median: .* received 6/,
    );
    expect(() => overridePriors(makeVisit(), { tipGirthM: { median: 0.5, sd: 0 } })).toThrow(
      /field options.priors.tipGirthM.sd/,
    );
  });
});
