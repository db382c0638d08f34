import { describe, expect, it } from 'vitest';
import { checkVisit, type VisitFile } from '../../core/recording/index.ts';
import { findRequirement, NO_RULE, TWO_THIRDS_RULE } from '../../core/strength/index.ts';

const GEOMETRY = { settingDepthM: 1.6764, groundlineGirthM: 0.9, tipGirthM: 0.55 };
const LOADS = {
  name: 'Sheet 7',
  source: 'Invented',
  forces: [{ name: 'pull', kind: 'tension', heightM: 7, forceN: 5000 }],
};

function makeVisit(requirement: unknown, pole: Record<string, unknown> = {}): VisitFile {
  return checkVisit(
    {
      format: 'stemroot-visit',
      version: 1,
      pole: { id: 'P1', species: 'southern-pine', classCode: '4', lengthM: 9.144, ...pole },
      measured: { date: '2026-05-03', circumferences: [{ heightM: 1.7, circumferenceM: 0.8 }] },
      requirement,
      recordings: [{ file: 'a.wav', channels: [{ index: 0, azimuthDeg: 0 }] }],
    },
    'a.visit.json',
  );
}

describe('findRequirement', () => {
  it('takes the class load under the rule of two thirds where the visit states nothing', () => {
    const { required, rule } = findRequirement(makeVisit(undefined), GEOMETRY);
    // 2400 lbf x 22.5 ft
    expect(required!.groundlineMomentNm).toBeCloseTo(2400 * 22.5 * 1.3558179, 0);
    expect(rule).toBe(TWO_THIRDS_RULE);
  });

  it('takes a moment as it is given, with its rule or none', () => {
    const given = { groundlineMomentNm: 5e4, source: 'study' };
    expect(findRequirement(makeVisit(given), null)).toEqual({ required: given, rule: NO_RULE });
    const rule = { factor: 0.8, source: 'owner' };
    expect(findRequirement(makeVisit({ ...given, rule }), GEOMETRY)).toEqual({ required: given, rule });
  });

  it('computes the moment of loads, with their rule or none', () => {
    const { required, rule } = findRequirement(makeVisit({ loads: LOADS }), GEOMETRY);
    expect(required).toMatchObject({ groundlineMomentNm: 35_000, items: [{ name: 'pull', armM: 7 }] });
    expect(rule).toBe(NO_RULE);
    const half = { factor: 0.5, source: 'owner' };
    expect(findRequirement(makeVisit({ loads: { ...LOADS, rule: half } }), GEOMETRY).rule).toEqual(half);
  });

  it('lays the wind on the pole’s own face', () => {
    const wind = { pressurePa: 300, flatPressurePa: 300, source: 'test' };
    const { required } = findRequirement(makeVisit({ loads: { ...LOADS, forces: [], wind } }), GEOMETRY);
    const h = 9.144 - 1.6764;
    expect(required!.groundlineMomentNm).toBeCloseTo((300 * h * h * (0.9 + 1.1)) / Math.PI / 6, 6);
  });

  it('tells nothing where the class is not known or the geometry is not', () => {
    expect(findRequirement(makeVisit(undefined, { classCode: 'Z9' }), GEOMETRY).required).toBeNull();
    expect(findRequirement(makeVisit(undefined, { classCode: null }), GEOMETRY).required).toBeNull();
    expect(findRequirement(makeVisit(undefined), null).required).toBeNull();
    expect(findRequirement(makeVisit({ loads: LOADS }), null).required).toBeNull();
  });
});

describe('a visit’s requirement', () => {
  const field = (requirement: unknown) => {
    try {
      makeVisit(requirement);
    } catch (error) {
      return (error as Error).message;
    }
    return null;
  };

  it('names the field that is wrong, in whichever form it is given', () => {
    expect(field({ groundlineMomentNm: -1, source: 'x' })).toMatch(
      /field requirement\.groundlineMomentNm: .*received -1/,
    );
    expect(field({ groundlineMomentNm: 5 })).toMatch(/field requirement\.source: .*received nothing/);
    expect(field({ loads: { ...LOADS, forces: [{ ...LOADS.forces[0], forceN: 0 }] } })).toMatch(
      /field requirement\.loads\.forces\[0\]\.forceN: .*received 0/,
    );
    expect(field({ loads: { ...LOADS, wind: { pressurePa: 1, flatPressurePa: 1 } } })).toMatch(
      /requirement\.loads\.wind\.source/,
    );
  });

  it('is a moment or loads, not both', () => {
    expect(field({ groundlineMomentNm: 5, source: 'x', loads: LOADS })).toMatch(
      /requirement: "loads" is not known here/,
    );
  });

  it('refuses a load above the tip', () => {
    const high = { ...LOADS, forces: [{ ...LOADS.forces[0], heightM: 9.2 }] };
    expect(field({ loads: high })).toMatch(
      /requirement\.loads\.forces\[0\]\.heightM: 9.2 m is not below the tip/,
    );
  });
});
