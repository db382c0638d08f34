import { describe, expect, it } from 'vitest';
import { SPECIES } from '../../core/recording/index.ts';
import {
  adjustForMoisture,
  adjustModulusForTemperature,
  densityOfWood,
  densityPrior,
  describeSpecies,
  findLowerCircumference,
  findPoleClass,
  modulusPrior,
  stemModulusRatio,
  WOODS,
} from '../../core/wood/index.ts';

describe('adjustForMoisture', () => {
  it('returns the tabulated values at their moistures', () => {
    expect(adjustForMoisture(88, 50, 12, 21)).toBe(88);
    expect(adjustForMoisture(88, 50, 21, 21)).toBe(50);
    expect(adjustForMoisture(88, 50, 20.999, 21)).toBeCloseTo(50, 1);
  });

  it('stays green above the intersection moisture', () => {
    expect(adjustForMoisture(88, 50, 80, 21)).toBe(50);
  });

  it('is the geometric mean half way, by hand', () => {
    expect(adjustForMoisture(100, 64, 18, 24)).toBeCloseTo(80, 9);
  });
});

describe('adjustModulusForTemperature', () => {
  it('interpolates between 12 % and green, and holds the ends of the table', () => {
    const at = (moisture: number, celsius: number) => adjustModulusForTemperature(1, celsius, moisture, 24);
    expect(at(18, 0)).toBeCloseTo((at(12, 0) + at(24, 0)) / 2, 12);
    expect(at(5, 0)).toBe(at(12, 0));
    expect(at(30, -40)).toBeCloseTo(1.22035, 9);
    expect(at(12, -40)).toBeCloseTo(1 + (7.8553 + 0.1108 * 15) / 100, 9);
  });
});

describe('densityOfWood', () => {
  it('adds water to the oven-dry mass over the green volume above saturation, and preservative', () => {
    expect(densityOfWood(0.47, 50)).toBeCloseTo(705, 9);
    expect(densityOfWood(0.47, 50, 40)).toBeCloseTo(745, 9);
  });

  it('is oven-dry mass over the shrunken volume at 0 %: 0.5 / (1 - 0.265 x 0.5)', () => {
    expect(densityOfWood(0.5, 0)).toBeCloseTo(576.37, 2);
  });
});

describe('describeSpecies', () => {
  it('has the handbook mean and variation for a single wood', () => {
    const { modulusOfRuptureGreenPa: strength, modulusGreenPa: modulus } = describeSpecies('red-pine');
    const meanStrength = strength.median * Math.exp(strength.logSd ** 2 / 2);
    const meanModulus = modulus.median * Math.exp(modulus.logSd ** 2 / 2);
    expect(meanStrength).toBeCloseTo(40e6, 0);
    expect(meanModulus).toBeCloseTo(1.1 * 8.8e9, 0);
    expect(Math.sqrt(Math.exp(strength.logSd ** 2) - 1)).toBeCloseTo(0.2, 12);
    expect(Math.sqrt(Math.exp(modulus.logSd ** 2) - 1)).toBeCloseTo(0.22, 12);
  });

  it('mixes the southern pines: geometric mean, variation within and between', () => {
    const pine = describeSpecies('southern-pine');
    const single = describeSpecies('red-pine');
    const geometricMeanPa = 1.1e9 * (9.7 * 11.0 * 9.6 * 10.5) ** 0.25;
    const shrink = Math.sqrt(1 + 0.22 ** 2);
    expect(pine.modulusGreenPa.median).toBeCloseTo(geometricMeanPa / shrink, -1);
    expect(pine.modulusGreenPa.logSd).toBeGreaterThan(single.modulusGreenPa.logSd);
    expect(pine.status).toBe('secondary');
    expect(pine.source).toContain('assumed');
  });

  it('is widest for a species that is not named, which holds every other median', () => {
    const other = describeSpecies('other');
    expect(other.status).toBe('assumed');
    for (const species of SPECIES) {
      if (species === 'other') continue;
      const named = describeSpecies(species);
      for (const key of ['modulusGreenPa', 'modulusOfRuptureGreenPa', 'basicSpecificGravity'] as const) {
        expect(named[key].logSd).toBeLessThan(other[key].logSd);
        expect(Math.abs(Math.log(named[key].median / other[key].median))).toBeLessThan(
          1.645 * other[key].logSd,
        );
      }
    }
  });

  it('never hides that a value was recalled', () => {
    expect(describeSpecies('western-redcedar').status).toBe('memory');
    expect(describeSpecies('western-redcedar').source).toContain('memory');
  });
});

describe('modulusPrior', () => {
  it('has its 12 % median at 12 % and its green median in wet wood', () => {
    const dry = modulusPrior('red-pine', 12, null);
    const wet = modulusPrior('red-pine', 60, null);
    expect(wet.medianPa).toBe(describeSpecies('red-pine').modulusGreenPa.median);
    expect(dry.medianPa / wet.medianPa).toBeCloseTo(WOODS.red.modulus12Pa / WOODS.red.modulusGreenPa, 9);
  });

  it('is stiffer in the cold', () => {
    expect(modulusPrior('red-pine', 60, -5).medianPa).toBeGreaterThan(
      modulusPrior('red-pine', 60, 20).medianPa,
    );
  });

  it.each(SPECIES)('widens where moisture or temperature of %s were not measured', (species) => {
    const known = modulusPrior(species, 22, 14).logSd;
    expect(modulusPrior(species, null, 14).logSd).toBeGreaterThan(known);
    expect(modulusPrior(species, 22, null).logSd).toBeGreaterThan(known);
    expect(modulusPrior(species, null, null).source).toContain('moisture assumed');
  });
});

describe('stemModulusRatio', () => {
  it('is 1 and certain in soaked wood at the tables’ temperature', () => {
    expect(stemModulusRatio('douglas-fir', 60, null).median).toBe(1);
    expect(stemModulusRatio('douglas-fir', 60, 21).logSd).toBe(0);
  });
});

describe('densityPrior', () => {
  it('follows the formula and widens without moisture', () => {
    const median = describeSpecies('douglas-fir').basicSpecificGravity.median;
    const known = densityPrior('douglas-fir', 35);
    expect(known.medianKgPerM3).toBeCloseTo(1350 * median, 9);
    expect(densityPrior('douglas-fir', null).logSd).toBeGreaterThan(known.logSd);
  });
});

describe('pole classes', () => {
  it('reads codes in either case and refuses others by name', () => {
    expect(findPoleClass(' h1 ').code).toBe('H1');
    for (const code of ['8', 'H7', '', 'constructor']) {
      expect(() => findPoleClass(code)).toThrow(/is no pole class/);
    }
  });

  it('has no lower circumference where the table has no row', () => {
    expect(findLowerCircumference('4', 9.14)!.circumferenceM).toBeCloseTo(29.5 * 0.0254, 9);
    expect(findLowerCircumference('4', 11.5)).toBeNull();
    expect(findLowerCircumference('H1', 12.19)).toBeNull();
    expect(findLowerCircumference('7', 30.5)).toBeNull();
  });
});
