import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitRelation, type RelationSpec } from '../../../core/strength/index.ts';
import { middleOf } from '../../../core/strength/relation/describeReach.ts';
import { distanceOf } from '../../../core/strength/relation/mahalanobis.ts';
import { reachOf } from '../../../core/strength/relation/reachOf.ts';
import { drawTests, normalDraws } from './drawTests.ts';
import { makeRow, PLAIN } from './makeRow.ts';

const SPECIES = ['red-pine', 'douglas-fir', 'southern-pine'] as const;

/** Tests of three species, with an age that goes with the modulus in part. */
function drawMixed(count: number, seed: number) {
  const draw = normalDraws(seed);
  return drawTests(count, draw).map((row, i) => ({
    ...row,
    species: SPECIES[i % 3]!,
    ageYears: 40 + 20 * Math.log(row.modulusPa! / 11e9) + 3 * draw(),
  }));
}

describe('describeReach', () => {
  it('has distances whose leverage is that of the fit, with and without levels of groups: h = 1/n + d^2/(n - G)', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 12, max: 40 }),
        fc.integer({ min: 1, max: 1e6 }),
        fc.constantFrom<RelationSpec['species']>('none', 'fixed'),
        (count, seed, species) => {
          const fit = fitRelation(drawMixed(count, seed), {
            ...PLAIN,
            species,
            predictors: ['modulus', 'age'],
          });
          const { parted, middles, inverseCovariance } = reachOf(fit);
          for (const [i, { values, leverage }] of fit.tests.entries()) {
            const name = middleOf(parted, fit.rows[i]!);
            const own = fit.rows.filter((row) => middleOf(parted, row) === name).length;
            const offsets = values.map((value, j) => value - middles.get(name)![j]!);
            const square = distanceOf(inverseCovariance, offsets) ** 2;
            expect(1 / own + square / (count - middles.size)).toBeCloseTo(leverage, 9);
          }
        },
      ),
      { numRuns: 30 },
    );
  });

  it('has its limit at three times the mean leverage: 12 tests, 2 coefficients, h = 6/12, d = sqrt(11 (6/12 - 1/12))', () => {
    expect(reachOf(fitRelation(drawTests(12, normalDraws(1)), PLAIN)).limit).toBeCloseTo(2.1409, 4);
  });

  it('is without end where nothing is measured: every pole is at the middle', () => {
    const reach = reachOf(fitRelation(drawTests(8, normalDraws(1)), { ...PLAIN, predictors: [] }));
    expect(reach).toMatchObject({ spans: [], edge: 0, inverseCovariance: [] });
    expect(distanceOf(reach.inverseCovariance, [])).toBe(0);
  });

  it('takes all tests for ordinary where those near the middle do not scatter, and sees who lies far out', () => {
    const rows = Array.from({ length: 12 }, (_, i) =>
      makeRow(`${i}`, { modulusPa: i === 11 ? 16e9 : 11e9, strengthPa: (40 + i) * 1e6 }),
    );
    const { ordinary, limit, middles } = reachOf(fitRelation(rows, PLAIN));
    expect(ordinary).toMatchObject({ limit, middles });
    expect(ordinary.farOut.get('')).toEqual([[expect.closeTo((11 / 12) * Math.log(16 / 11), 12)]]);
    const scattered = drawTests(12, normalDraws(2));
    const far = makeRow('far', { modulusPa: 40e9 });
    const { ordinary: alone } = reachOf(fitRelation([...scattered, far], PLAIN));
    const { middles: own, inverseCovariance } = reachOf(fitRelation(scattered, PLAIN));
    expect(alone.middles).toEqual(own);
    expect(alone.inverseCovariance).toEqual(inverseCovariance);
  });

  it('parts no groups where too few tests are in them, or none of them scatters', () => {
    const each = ['red-pine', 'douglas-fir', 'southern-pine', 'lodgepole-pine', 'ponderosa-pine'] as const;
    const rows = drawTests(7, normalDraws(5)).map((row, i) => ({ ...row, species: each[i % 5]! }));
    expect(reachOf(fitRelation(rows, { ...PLAIN, species: 'pooled' })).parted).toBeNull();
    const alike = drawTests(12, normalDraws(6)).map((row, i) => ({
      ...row,
      species: SPECIES[i % 3]!,
      modulusPa: (8 + 2 * (i % 3)) * 1e9,
    }));
    expect(reachOf(fitRelation(alike, { ...PLAIN, species: 'pooled' })).parted).toBeNull();
    expect(reachOf(fitRelation(drawMixed(30, 3), { ...PLAIN, species: 'pooled' })).parted).toBe('species');
  });

  it('counts poles of a kind, not their tests, where kinds are not told apart', () => {
    const rows = drawMixed(30, 4).map((row, i) =>
      i < 3 ? { ...row, poleId: 'one', species: 'ponderosa-pine' as const } : row,
    );
    const kindsOf = (species: RelationSpec['species']) =>
      reachOf(fitRelation(rows, { ...PLAIN, species })).kinds.map(({ level, poles }) => [level, poles]);
    const counted = [
      ['douglas-fir', 9],
      ['ponderosa-pine', 1],
      ['red-pine', 9],
      ['southern-pine', 9],
    ];
    expect(kindsOf('none')).toEqual(counted);
    expect(kindsOf('pooled')).toEqual(counted);
    expect(kindsOf('fixed')).toEqual([]);
  });

  it('sees a species that is weaker than the relation tells, and by chance alone one series in twenty', () => {
    const of = (seed: number, share: number) => {
      const rows = drawMixed(36, seed).map((row) =>
        row.species === 'douglas-fir' ? { ...row, groundlineMomentNm: row.groundlineMomentNm * share } : row,
      );
      return reachOf(fitRelation(rows, PLAIN))
        .kinds.filter(({ overstated }) => overstated !== null)
        .map(({ level }) => level);
    };
    const series = Array.from({ length: 200 }, (_, i) => i + 1);
    expect(series.filter((seed) => of(seed, 0.7).includes('douglas-fir')).length).toBeGreaterThan(190);
    // four standard errors of a share of 0.05 over 200 series
    expect(series.filter((seed) => of(seed, 1).length > 0).length / 200).toBeLessThan(
      0.05 + 4 * Math.sqrt((0.05 * 0.95) / 200),
    );
  });

  it('sees no weaker species where there is one alone', () => {
    const { kinds } = reachOf(fitRelation(drawTests(12, normalDraws(3)), PLAIN));
    expect(kinds).toEqual([{ factor: 'species', level: 'red-pine', poles: 12, overstated: null }]);
    expect(
      reachOf(fitRelation([...drawTests(12, normalDraws(3)), makeRow('last', { modulusPa: 9e9 })], PLAIN))
        .kinds,
    ).toHaveLength(1);
  });
});
