/**
 * Loads on a pole against figures worked by hand, as statics has them: wind on a cylinder and a cone, tension where a
 * line turns, weight beside the axis. Wind pressures are those of California General Order 95, rule 43.1 (read).
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../core/errors.ts';
import { type RequirementProfile, requirementProfileSchema } from '../../core/recording/index.ts';
import {
  LOAD_FACTOR_SETTINGS,
  requirementFromLoads,
  STRENGTH_LOSS_RULES,
  WIND_SETTINGS,
} from '../../core/strength/index.ts';

const POLE = { tipHeightM: 10, groundlineDiameterM: 0.3, tipDiameterM: 0.2 };
const WIND = { pressurePa: 500, flatPressurePa: 800, source: 'assumed for this test' };

function makeProfile(loads: Record<string, unknown>): RequirementProfile {
  return requirementProfileSchema.parse({ name: 'Test line', source: 'Invented sheet', ...loads });
}

describe('requirementFromLoads', () => {
  it('takes a cylinder at half its height: 500 Pa x 0.3 m x 10 m x 5 m = 7500 N m', () => {
    const { items, groundlineMomentNm, source } = requirementFromLoads(makeProfile({ wind: WIND }), {
      ...POLE,
      tipDiameterM: 0.3,
    });
    expect(source).toContain('Wind: assumed for this test.');
    expect(items).toHaveLength(1);
    expect(items![0]).toMatchObject({ name: 'Wind on the pole', kind: 'wind', factor: 1 });
    expect(items![0]!.loadN).toBeCloseTo(1500, 9);
    expect(items![0]!.armM).toBeCloseTo(5, 12);
    expect(groundlineMomentNm).toBeCloseTo(7500, 8);
  });

  it('takes a taper as the sum of thin slices of its face does', () => {
    const slices = 20_000;
    const stepM = POLE.tipHeightM / slices;
    let byHandNm = 0;
    for (let i = 0; i < slices; i++) {
      const z = (i + 0.5) * stepM;
      byHandNm += 500 * (0.3 - 0.01 * z) * stepM * z;
    }
    const { groundlineMomentNm } = requirementFromLoads(makeProfile({ wind: WIND }), POLE);
    // 500 x 100 x (0.3 + 0.4) / 6
    expect(groundlineMomentNm).toBeCloseTo(5833.3333, 3);
    expect(groundlineMomentNm / byHandNm).toBeCloseTo(1, 8);
  });

  it('puts ice on conductors, and turns wind and tension into the bisector of the line’s angle', () => {
    const profile = makeProfile({
      wind: { ...WIND, iceThicknessM: 0.005, onPole: false },
      conductors: [
        {
          name: 'phases',
          count: 3,
          heightM: 9,
          diameterM: 0.01,
          windSpanM: 80,
          tensionN: 4000,
          lineAngleDeg: 60,
        },
      ],
    });
    const { items, source } = requirementFromLoads(profile, POLE);
    expect(source).toContain('Wind: assumed for this test, without wind on the pole.');
    // 3 x 500 x 0.02 x 80 x cos 30 = 2078.46 N; 3 x 2 x 4000 x sin 30 = 12,000 N
    expect(items!.map(({ name }) => name)).toEqual(['Wind on phases', 'Tension of phases']);
    expect(items![0]!.loadN).toBeCloseTo(2078.461, 3);
    expect(items![1]!.loadN).toBeCloseTo(12_000, 8);
    expect(items![1]!.momentNm).toBeCloseTo(108_000, 7);
  });

  it('takes flat faces with their own pressure, and weight at its distance from the axis', () => {
    const profile = makeProfile({
      wind: { ...WIND, onPole: false },
      equipment: [
        { name: 'transformer', heightM: 7, areaM2: 0.5, massKg: 200, offsetM: 0.4 },
        { name: 'can', heightM: 6, areaM2: 0.5, face: 'round' },
      ],
    });
    const { items } = requirementFromLoads(profile, POLE);
    expect(items!.map(({ loadN, armM }) => [loadN, armM])).toEqual([
      [400, 7],
      [200 * 9.80665, 0.4],
      [250, 6],
    ]);
    expect(items!.map(({ kind }) => kind)).toEqual(['wind', 'weight', 'wind']);
  });

  it('applies each load factor and divides by the strength factor', () => {
    const profile = makeProfile({
      forces: [
        { name: 'gust', kind: 'wind', heightM: 5, forceN: 100 },
        { name: 'dead end', kind: 'tension', heightM: 8, forceN: 1000 },
      ],
      loadFactors: { wind: 2.5, tension: 1.65, weight: 1.5, strength: 0.65, source: 'factors of a test' },
    });
    const { items, groundlineMomentNm, source } = requirementFromLoads(profile, POLE);
    // (500 x 2.5 + 8000 x 1.65) / 0.65
    expect(groundlineMomentNm).toBeCloseTo(22_230.769, 3);
    expect(items!.reduce((sum, item) => sum + item.requiredMomentNm, 0)).toBe(groundlineMomentNm);
    expect(source).toMatch(
      /^Test line: Invented sheet\. Factors: factors of a test\. .*Check your local code\.$/,
    );
  });

  it('names a load above the tip, and a profile that bends nothing', () => {
    const high = makeProfile({ forces: [{ name: 'stay', kind: 'tension', heightM: 10.3, forceN: 1 }] });
    expect(() => requirementFromLoads(high, POLE)).toThrow(/stay at 10.3 m is above the tip.*10.00 m/);
    expect(() => requirementFromLoads(makeProfile({}), POLE)).toThrow(InputError);
    expect(() => requirementFromLoads(makeProfile({}), POLE)).toThrow(/no load that bends/);
  });

  it('grows in proportion to every load at once, and never shrinks by adding one', () => {
    const force = fc.record({
      name: fc.constant('force'),
      kind: fc.constantFrom('wind' as const, 'tension' as const),
      heightM: fc.double({ min: 0.1, max: 10, noNaN: true }),
      forceN: fc.double({ min: 1, max: 1e5, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(force, { minLength: 1, maxLength: 8 }), force, (forces, further) => {
        const momentOf = (list: typeof forces) =>
          requirementFromLoads(makeProfile({ forces: list }), POLE).groundlineMomentNm;
        const doubled = forces.map((one) => ({ ...one, forceN: 2 * one.forceN }));
        expect(momentOf(doubled) / momentOf(forces)).toBeCloseTo(2, 9);
        expect(momentOf([...forces, further])).toBeGreaterThan(momentOf(forces));
      }),
    );
  });
});

describe('settings to start from', () => {
  it('fit the profile, and each says where it is from', () => {
    for (const { name, status, ...wind } of WIND_SETTINGS) {
      expect(makeProfile({ wind }).wind).toMatchObject(wind);
      expect(wind.source, name).toMatch(new RegExp(`\\(${status}\\)\\. Check your local code\\.$`));
    }
    for (const { name, status, ...loadFactors } of LOAD_FACTOR_SETTINGS) {
      expect(makeProfile({ loadFactors }).loadFactors).toEqual(loadFactors);
      expect([name, status, loadFactors.source]).toEqual([
        name,
        'memory',
        expect.stringContaining('Check your local code'),
      ]);
    }
  });

  it('has the pressures of California General Order 95, rule 43.1: 6 and 10 psf, half an inch of ice', () => {
    const heavy = WIND_SETTINGS.find(({ status }) => status === 'read')!;
    // 1 psf = 4.4482216152605 N / 0.09290304 m2
    expect(heavy.pressurePa).toBeCloseTo((6 * 4.4482216152605) / 0.09290304, 4);
    expect(heavy.flatPressurePa).toBeCloseTo((10 * 4.4482216152605) / 0.09290304, 4);
    expect(heavy.iceThicknessM).toBeCloseTo(0.0127, 12);
  });

  it('offers the shares of rule 44.3: two thirds in grades A and B, one half in grade C', () => {
    expect(STRENGTH_LOSS_RULES.map(({ factor }) => factor)).toEqual([2 / 3, 1 / 2, 1]);
    for (const rule of STRENGTH_LOSS_RULES.slice(0, 2)) expect(rule.source).toContain('rule 44.3');
  });
});
