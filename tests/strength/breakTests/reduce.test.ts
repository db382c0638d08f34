/**
 * Tests that broke a pole or a specimen, reduced by hand: statics and the section moduli of any handbook. The place of greatest stress of a
 * tapered cantilever against tests/reference/data/max-stress-location.csv (derived there; the same in texts on poles, from memory).
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { locateGreatestStress } from '../../../core/strength/breakTests/locateGreatestStress.ts';
import { reduceBending } from '../../../core/strength/breakTests/reduceBending.ts';
import { reduceCantilever } from '../../../core/strength/breakTests/reduceCantilever.ts';
import { readReferenceTable } from '../../reference/readReferenceTable.ts';

const NM_PER_FT_LBF = 1.3558179483;
const N_PER_LBF = 4.4482216152605;
const PA_PER_PSI = 6894.757293;

describe('reduceCantilever', () => {
  it('has the class 4, 40 ft pole: 2400 lbf at 32 ft are 76,800 ft lbf, and 7742 psi on 33.5 in', () => {
    const { groundlineMomentNm, groundlineStressPa, breakStressPa } = reduceCantilever({
      loadN: 2400 * N_PER_LBF,
      loadHeightM: 32 * 0.3048,
      groundlineCircumferenceM: 33.5 * 0.0254,
    });
    expect(groundlineMomentNm / NM_PER_FT_LBF).toBeCloseTo(76_800, 2);
    // 32 pi^2 x 76,800 x 12 / 33.5^3
    expect(groundlineStressPa / PA_PER_PSI).toBeCloseTo((32 * Math.PI ** 2 * 76_800 * 12) / 33.5 ** 3, 3);
    expect(groundlineStressPa / PA_PER_PSI).toBeCloseTo(7742.06, 1);
    expect(breakStressPa).toBe(groundlineStressPa);
  });

  it('takes arm and girth at the break: 10 kN at 8 m, broken at 2 m where the girth is 0.72 of 0.8 m', () => {
    const { groundlineMomentNm, groundlineStressPa, breakStressPa } = reduceCantilever({
      loadN: 1e4,
      loadHeightM: 8,
      groundlineCircumferenceM: 0.8,
      breakHeightM: 2,
      breakCircumferenceM: 0.72,
    });
    expect(groundlineMomentNm).toBe(8e4);
    expect(groundlineStressPa / 1e6).toBeCloseTo((32 * Math.PI ** 2 * 0.08) / 0.512, 9);
    expect(breakStressPa / 1e6).toBeCloseTo((32 * Math.PI ** 2 * 0.06) / 0.373248, 9);
  });

  it('takes off what the arm lost: 0.4 of 8 m', () => {
    const test = { loadN: 1e4, loadHeightM: 8, groundlineCircumferenceM: 0.8, armLossM: 0.4 };
    expect(reduceCantilever(test).groundlineMomentNm).toBeCloseTo(7.6e4, 9);
  });

  it('takes a break below ground line as at it', () => {
    const test = { loadN: 1e4, loadHeightM: 8, groundlineCircumferenceM: 0.8 };
    expect(reduceCantilever({ ...test, breakHeightM: -0.3, breakCircumferenceM: 0.85 })).toEqual(
      reduceCantilever(test),
    );
  });
});

describe('reduceBending', () => {
  it('has 8 P l / (pi d^3) of a round specimen loaded in the middle', () => {
    const { momentNm, modulusOfRupturePa } = reduceBending({
      loadN: 5000,
      spanM: 1.2,
      points: 3,
      section: { diameterM: 0.06 },
    });
    expect(momentNm).toBeCloseTo(1500, 9);
    expect(modulusOfRupturePa).toBeCloseTo((8 * 5000 * 1.2) / (Math.PI * 0.06 ** 3), 3);
  });

  it('has 3 P l / (2 b h^2) of a square one, and 3 P a / (b h^2) under two loads', () => {
    const section = { widthM: 0.02, depthM: 0.03 };
    const three = reduceBending({ loadN: 1000, spanM: 0.28, points: 3, section });
    expect(three.modulusOfRupturePa).toBeCloseTo((3 * 1000 * 0.28) / (2 * 0.02 * 0.0009), 3);
    const four = reduceBending({ loadN: 1000, spanM: 0.54, points: 4, section });
    // thirds: P l / (b h^2)
    expect(four.modulusOfRupturePa).toBeCloseTo((1000 * 0.54) / (0.02 * 0.0009), 3);
    const given = reduceBending({ loadN: 1000, spanM: 0.54, points: 4, loadFromSupportM: 0.1, section });
    expect(given.modulusOfRupturePa).toBeCloseTo((3 * 1000 * 0.1) / (0.02 * 0.0009), 3);
  });

  it('has P a b / l where the load is off the middle', () => {
    const section = { diameterM: 0.25 };
    const { momentNm } = reduceBending({ loadN: 3e4, spanM: 9, points: 3, loadFromSupportM: 1.8, section });
    expect(momentNm).toBeCloseTo((3e4 * 1.8 * 7.2) / 9, 9);
  });
});

describe('locateGreatestStress', () => {
  it.each(readReferenceTable('max-stress-location.csv'))('tip over ground line $alpha', (row) => {
    const { heightM, overGroundline } = locateGreatestStress({
      loadHeightM: 10,
      groundlineDiameterM: 0.4,
      loadDiameterM: 0.4 * Number(row.alpha),
    });
    expect(heightM).toBeCloseTo(10 * Number(row.s_max), 4);
    expect(overGroundline).toBeCloseTo(Number(row['sigma_max/sigma_ground']), 5);
  });

  it('is the greatest of all heights', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: 1.2, noNaN: true }),
        fc.double({ min: 0, max: 0.999, noNaN: true }),
        (alpha, share) => {
          const pole = { loadHeightM: 10, groundlineDiameterM: 0.4, loadDiameterM: 0.4 * alpha };
          const stressOver = (1 - share) / (1 + (alpha - 1) * share) ** 3;
          expect(locateGreatestStress(pole).overGroundline).toBeGreaterThanOrEqual(stressOver * (1 - 1e-12));
        },
      ),
    );
  });
});
