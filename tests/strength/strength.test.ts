import { describe, expect, it } from 'vitest';
import {
  type Calibration,
  calibrationLabel,
  chanceBelow,
  compareWithRequirement,
  estimateOf,
  findRequiredModulus,
  fromLognormal,
  handbookCalibration,
  medianOf,
  predictCapacity,
  predictConditionalLognormal,
  requirementFromClass,
  sectionModulus,
  TWO_THIRDS_RULE,
} from '../../core/strength/index.ts';
import { describeSpecies, modulusPrior } from '../../core/wood/index.ts';
import { UNMEASURED } from './unmeasured.ts';

describe('estimateOf and chanceBelow of a lognormal quantity', () => {
  it('agree with each other: 5 % below the low end, 5 % above the high one', () => {
    const quantity = fromLognormal({ median: 50, logSd: 0.3 });
    const { value, low, high, level } = estimateOf(quantity);
    expect(value).toBeCloseTo(50, 12);
    expect(level).toBe(0.9);
    expect(chanceBelow(quantity, low)).toBeCloseTo(0.05, 10);
    expect(chanceBelow(quantity, value)).toBeCloseTo(0.5, 10);
    expect(chanceBelow(quantity, high)).toBeCloseTo(0.95, 10);
  });

  it('gives the normal table’s 0.8413 at one standard deviation', () => {
    expect(chanceBelow(fromLognormal({ median: 1, logSd: 0.5 }), Math.exp(0.5))).toBeCloseTo(0.8413447, 7);
  });

  it('is a step for a certain quantity', () => {
    expect(chanceBelow(fromLognormal({ median: 1, logSd: 0 }), 0.999)).toBe(0);
    expect(chanceBelow(fromLognormal({ median: 1, logSd: 0 }), 1.001)).toBe(1);
  });
});

describe('predictConditionalLognormal', () => {
  const x = { median: 10, logSd: 0.2 };
  const y = { median: 50, logSd: 0.1 };

  it('matches the hand calculation', () => {
    // slope 0.6 x 0.1 / 0.2 = 0.3; median 50 x 1.2^0.3; variance 0.1^2 x 0.64 + (0.3 x 0.05)^2 = 0.006625
    const predicted = predictConditionalLognormal(x, y, 0.6, { median: 12, logSd: 0.05 });
    expect(predicted.median).toBeCloseTo(52.8106, 3);
    expect(predicted.logSd).toBeCloseTo(0.0813941, 6);
  });

  it('ignores x without correlation, and follows it wholly with full correlation', () => {
    expect(predictConditionalLognormal(x, y, 0, { median: 20, logSd: 1 })).toEqual(y);
    const sure = predictConditionalLognormal(x, y, 1, { median: 20, logSd: 0 });
    expect(sure.median).toBeCloseTo(50 * Math.SQRT2, 9);
    expect(sure.logSd).toBe(0);
  });

  it('returns the population where nothing but the population is known of x', () => {
    const predicted = predictConditionalLognormal(x, y, 0.6, x);
    expect(predicted.median).toBeCloseTo(y.median, 12);
    expect(predicted.logSd).toBeCloseTo(y.logSd, 12);
  });

  it('covers 90 % of drawn specimens whose x was measured with error', () => {
    const r = 0.5;
    const errorLogSd = 0.15;
    const draw = standardNormals(20260503);
    const trials = 20_000;
    let covered = 0;
    for (let trial = 0; trial < trials; trial++) {
      const zx = draw();
      const lnX = Math.log(x.median) + x.logSd * zx;
      const lnY = Math.log(y.median) + y.logSd * (r * zx + Math.sqrt(1 - r * r) * draw());
      const lnReading = lnX + errorLogSd * draw();
      const weight = x.logSd ** 2 / (x.logSd ** 2 + errorLogSd ** 2);
      const posterior = {
        median: Math.exp(Math.log(x.median) + weight * (lnReading - Math.log(x.median))),
        logSd: errorLogSd * Math.sqrt(weight),
      };
      const { low, high } = estimateOf(fromLognormal(predictConditionalLognormal(x, y, r, posterior)));
      if (lnY > Math.log(low) && lnY < Math.log(high)) covered++;
    }
    // Four standard errors of a share of 0.9 over 20,000 draws.
    expect(Math.abs(covered / trials - 0.9)).toBeLessThan(4 * Math.sqrt((0.9 * 0.1) / trials));
  });
});

describe('handbookCalibration', () => {
  const wet = { moisturePercent: 60, temperatureC: null, ageYears: 10, treatment: 'creosote' } as const;

  it('is named with its version and says where it comes from', () => {
    expect(calibrationLabel(handbookCalibration)).toBe('handbook@1');
    expect(handbookCalibration.source).toMatch(/FPL-GTR-190.*FPL-GTR-158.*Martins/s);
    expect(handbookCalibration.describe()).toContain('No break test stands behind it');
  });

  it('matches the hand calculation for a wet red pine one standard deviation above its median', () => {
    const { modulusGreenPa, modulusOfRuptureGreenPa } = describeSpecies('red-pine');
    const { modulusOfRupturePa } = handbookCalibration.predictModulusOfRupture({
      species: 'red-pine',
      modulusPa: { median: modulusGreenPa.median * Math.exp(modulusGreenPa.logSd), logSd: 0 },
      ...wet,
      ...UNMEASURED,
    });
    // 40 MPa / sqrt(1.04) x exp(0.5 x sqrt(ln 1.04)); the unmeasured temperature adds a little spread.
    expect(medianOf(modulusOfRupturePa) / 1e6).toBeCloseTo(43.306, 2);
    expect(modulusOfRupturePa.normalSd).toBeGreaterThan(modulusOfRuptureGreenPa.logSd * Math.sqrt(0.75));
    expect(modulusOfRupturePa.normalSd).toBeLessThan(0.175);
  });

  it('gives the same strength for the same wood dry or wet: the stem dries, the ground line does not', () => {
    const predict = (moisturePercent: number) => {
      const { modulusOfRupturePa } = handbookCalibration.predictModulusOfRupture({
        species: 'douglas-fir',
        modulusPa: { median: modulusPrior('douglas-fir', moisturePercent, 10).medianPa, logSd: 0.05 },
        moisturePercent,
        temperatureC: 10,
        ageYears: 10,
        treatment: 'creosote',
        ...UNMEASURED,
      });
      return medianOf(modulusOfRupturePa);
    };
    expect(predict(14)).toBeCloseTo(predict(40), 0);
  });

  it('warns of an unnamed species, of assumed moisture, and outside of its range only', () => {
    const warningsAt = (species: 'other' | 'red-pine', modulusPa: number, moisturePercent: number | null) =>
      handbookCalibration.predictModulusOfRupture({
        species,
        modulusPa: { median: modulusPa, logSd: 0.05 },
        moisturePercent,
        temperatureC: 15,
        ageYears: 10,
        treatment: 'creosote',
        ...UNMEASURED,
      }).warnings;
    expect(warningsAt('red-pine', 9.5e9, 25)).toEqual([]);
    expect(warningsAt('other', 9.5e9, 25)).toEqual([expect.stringContaining('Species not named')]);
    expect(warningsAt('red-pine', 9.5e9, null)).toEqual([expect.stringContaining('25 % assumed')]);
    expect(warningsAt('red-pine', 3e9, 25)).toEqual([expect.stringMatching(/3\.0 GPa is 5\.\d .* below/)]);
    expect(warningsAt('red-pine', 2e10, 25)).toEqual([expect.stringMatching(/20\.0 GPa is 3\.\d .* above/)]);
  });
});

describe('findRequiredModulus', () => {
  const predictors = {
    species: 'red-pine',
    moisturePercent: 60,
    temperatureC: null,
    ageYears: 10,
    treatment: 'creosote',
    modulusPa: { median: 9e9, logSd: 0.1 },
    ...UNMEASURED,
  } as const;
  const { modulusGreenPa, modulusOfRuptureGreenPa } = describeSpecies('red-pine');
  const sectionM3 = 0.002;

  it('is the species median where the species median strength is asked', () => {
    const momentNm = modulusOfRuptureGreenPa.median * sectionM3;
    const modulusPa = findRequiredModulus(handbookCalibration, predictors, sectionM3, momentNm)!;
    expect(modulusPa / modulusGreenPa.median).toBeCloseTo(1, 9);
  });

  it('is null where no stem could meet the requirement, or any stem would', () => {
    expect(findRequiredModulus(handbookCalibration, predictors, sectionM3, 1e6)).toBeNull();
    expect(findRequiredModulus(handbookCalibration, predictors, sectionM3, 1e3)).toBeNull();
  });

  it('is looked for where a calibration speaks: proportional strength, told of from 6 to 14 GPa', () => {
    const limited: Calibration = {
      ...handbookCalibration,
      predictModulusOfRupture: ({ modulusPa }) =>
        modulusPa.median < 6e9 || modulusPa.median > 14e9
          ? { modulusOfRupturePa: null, withheldBecause: 'outside' }
          : {
              modulusOfRupturePa: fromLognormal({ median: modulusPa.median / 200, logSd: 0.1 }),
              leverage: null,
              because: [],
              warnings: [],
            },
    };
    // E / 200 times the section
    const momentAt = (modulusPa: number) => (modulusPa / 200) * sectionM3;
    expect(findRequiredModulus(limited, predictors, sectionM3, momentAt(11e9))! / 11e9).toBeCloseTo(1, 9);
    for (const modulusPa of [5.9e9, 14.1e9]) {
      expect(findRequiredModulus(limited, predictors, sectionM3, momentAt(modulusPa))).toBeNull();
    }
  });
});

describe('sectionModulus', () => {
  it('has the slope of a finite difference at a fixed shell', () => {
    const step = 1e-5;
    for (const shell of [null, 0.03, 0.08]) {
      const at = (logStep: number) =>
        Math.log(sectionModulus(0.9 * Math.exp(logStep), shell).sectionModulusM3);
      expect(sectionModulus(0.9, shell).logSlope).toBeCloseTo((at(step) - at(-step)) / (2 * step), 6);
    }
  });

  it('takes a shell of half the diameter or more as solid', () => {
    expect(sectionModulus(Math.PI * 0.3, 0.15)).toEqual(sectionModulus(Math.PI * 0.3, null));
    expect(sectionModulus(Math.PI * 0.3, 0.5)).toEqual(sectionModulus(Math.PI * 0.3, null));
  });

  it('names what is wrong', () => {
    for (const bad of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => sectionModulus(bad, null)).toThrow(/Groundline circumference/);
      expect(() => sectionModulus(0.9, bad)).toThrow(/Groundline shell/);
    }
  });
});

describe('predictCapacity', () => {
  it('multiplies strength by section and adds thrice the spread of the circumference', () => {
    const capacity = predictCapacity({
      modulusOfRupturePa: fromLognormal({ median: 50e6, logSd: 0.16 }),
      leverage: null,
      groundlineCircumferenceM: Math.PI * 0.3,
      circumferenceLogSd: 0.04,
    });
    expect(capacity.sectionModulusM3).toBeCloseTo(0.00265072, 8);
    expect(capacity.groundlineMomentNm.value).toBeCloseTo(132_535.9, 0);
    expect(capacity.moment.normalSd).toBeCloseTo(0.2, 12);
    expect(capacity.groundlineMomentNm.low).toBeCloseTo(132_535.9 * Math.exp(-1.6448536 * 0.2), 0);
    expect(capacity.lower5PercentNm).toBe(capacity.groundlineMomentNm.low);
    expect(capacity.modulusOfRupturePa.value).toBeCloseTo(50e6, 6);
    expect(capacity.tolerance).toBeNull();
  });
});

describe('requirement', () => {
  const classFour = { classCode: '4', lengthM: 9.144, settingDepthM: 1.6764 };

  it('is the class load at 2 ft from the tip: 2400 lbf x 22.5 ft', () => {
    const required = requirementFromClass(classFour);
    expect(required.groundlineMomentNm).toBeCloseTo(2400 * 22.5 * 1.3558179, 0);
    expect(required.source).toMatch(/Class 4 .*memory.*Check against the standard/s);
  });

  it('refuses a pole with no arm above ground, and an unknown class', () => {
    expect(() => requirementFromClass({ ...classFour, settingDepthM: 8.9 })).toThrow(/leaves no load arm/);
    expect(() => requirementFromClass({ ...classFour, settingDepthM: Number.NaN })).toThrow(
      /leaves no load arm/,
    );
    expect(() => requirementFromClass({ ...classFour, classCode: '8' })).toThrow(/no pole class/);
  });

  it('states the chance against the whole requirement and against the rule’s threshold', () => {
    const required = { groundlineMomentNm: 90_000, source: 'line load study' };
    const compared = compareWithRequirement(
      fromLognormal({ median: 90_000, logSd: 0.2 }),
      required,
      TWO_THIRDS_RULE,
    );
    expect(compared.chanceBelow).toBeCloseTo(0.5, 12);
    expect(compared.thresholdMomentNm).toBeCloseTo(60_000, 6);
    // Phi(ln(2/3) / 0.2) = Phi(-2.02733)
    expect(compared.chanceBelowThreshold).toBeCloseTo(0.02132, 4);
    expect(compared.source).toBe('line load study');
    expect(compared.ruleSource).toContain('from memory');
  });

  it('takes another rule with its own source', () => {
    const rule = { factor: 1, source: 'rule of the line' };
    const compared = compareWithRequirement(
      fromLognormal({ median: 1e5, logSd: 0.2 }),
      requirementFromClass(classFour),
      rule,
    );
    expect(compared.chanceBelowThreshold).toBe(compared.chanceBelow);
    expect(compared.ruleSource).toBe('rule of the line');
  });

  it('states no chance where capacity was withheld', () => {
    const compared = compareWithRequirement(null, requirementFromClass(classFour), TWO_THIRDS_RULE);
    expect([compared.chanceBelow, compared.chanceBelowThreshold]).toEqual([null, null]);
  });
});

/** Standard normal draws by Box and Muller over a small linear congruential generator (Park and Miller 1988). */
function standardNormals(seed: number): () => number {
  let state = seed;
  const uniform = () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}
