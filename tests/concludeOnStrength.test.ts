import { describe, expect, it } from 'vitest';
import type { Assessment } from '../core/assessment.ts';
import { concludeOnStrength } from '../core/concludeOnStrength.ts';
import { gatherPredictors } from '../core/gatherPredictors.ts';
import { GROUNDLINE_GIRTH } from '../core/inference/index.ts';
import {
  type Calibration,
  calibrationFromDocument,
  fitRelation,
  publishCalibration,
} from '../core/strength/index.ts';
import { assessment, makeInput } from './report/fixture.ts';
import { makeRow, PLAIN } from './strength/relation/makeRow.ts';

const { visit } = makeInput();
const evidence: Assessment = {
  ...assessment,
  priors: [{ name: GROUNDLINE_GIRTH, median: 0.9, low: 0.88, high: 0.92, unit: 'm', source: 'invented' }],
};

/** A line that falls through 0 at some 13 years, just beyond tests of up to 11. */
const FALLING = publish({ ...PLAIN, form: 'linear', predictors: ['age'] });

function publish(spec: Parameters<typeof fitRelation>[1]): Calibration {
  const rows = Array.from({ length: 12 }, (_, i) =>
    makeRow(`${i}`, {
      ageYears: i,
      species: 'southern-pine',
      strengthPa: (12.2 - i + (i % 2) / 2) * 1e6,
      modulusPa: (10 + (i % 5)) * 1e9,
      densityKgPerM3: 500 + 7 * ((i * 5) % 12),
    }),
  );
  return calibrationFromDocument(
    publishCalibration(fitRelation(rows, spec), {
      name: 'falling',
      number: 1,
      author: 'A. Tester',
      note: '',
      publishedAt: '2026-05-03T10:00:00Z',
    }),
  );
}

const ofAge = (years: number) => ({
  ...visit,
  pole: { ...visit.pole, setYear: Number(visit.measured.date.slice(0, 4)) - years },
});

describe('concludeOnStrength', () => {
  it('withholds where a line falls to a strength of 0 or less', () => {
    expect(concludeOnStrength(ofAge(5), evidence, FALLING).verdict).toBe('assessed');
    const conclusion = concludeOnStrength(ofAge(13), evidence, FALLING);
    expect(conclusion).toMatchObject({ verdict: 'withheld', withheldBy: 'calibration', strength: null });
    expect(conclusion.withheldBecause).toMatch(/^falling@1: .*strength of 0 or less/);
    expect(concludeOnStrength(ofAge(60), evidence, FALLING).withheldBecause).toMatch(
      /^falling@1: This pole lies outside of what the tests carry: years in the ground 60 years, where/,
    );
  });

  it('withholds by a relation on E over density where the density is that of the species', () => {
    const byDensity = publish({ ...PLAIN, predictors: ['specificModulus'] });
    const of = (densityKgPerM3: number | null) => ({
      ...visit,
      measured: { ...visit.measured, densityKgPerM3 },
    });
    expect(gatherPredictors(of(null), evidence)!.densityKgPerM3).toBeNull();
    expect(concludeOnStrength(of(null), evidence, byDensity).withheldBecause).toMatch(
      /modulus of elasticity over density, which is not known of this pole/,
    );
    expect(concludeOnStrength(of(520), evidence, byDensity).verdict).toBe('assessed');
    // the modulus goes with the density that was set, not with the one that was measured
    const density = { median: 700, low: 680, high: 720, unit: 'kg/m3', source: 'given', isGiven: true };
    const given = { ...evidence, priors: [...evidence.priors, { name: 'density', ...density }] };
    expect(gatherPredictors(of(520), given)!.densityKgPerM3).toBeNull();
  });
});
