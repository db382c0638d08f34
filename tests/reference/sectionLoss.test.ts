/**
 * Loss of section of a round pole, derived by hand: external decay of depth x D leaves (1 - 2x)^3 of the section
 * modulus, a concentric hollow that leaves a shell x D leaves 1 - (1 - 2x)^4. Agreement to the six digits of the table.
 */
import { expect, it } from 'vitest';
import { sectionModulus } from '../../core/strength/index.ts';
import { readReferenceTable } from './readReferenceTable.ts';

const DIAMETER_M = 0.3;
const circumferenceM = Math.PI * DIAMETER_M;
const solid = sectionModulus(circumferenceM, null).sectionModulusM3;

it.each(readReferenceTable('decay-section-ratios.csv'))('row %#', (row) => {
  const x = Number(row['x=t/D']);
  const decayed = sectionModulus(circumferenceM * (1 - 2 * x), null).sectionModulusM3;
  const shell = sectionModulus(circumferenceM, x * DIAMETER_M).sectionModulusM3;
  expect(decayed / solid).toBeCloseTo(Number(row.ext_Z), 6);
  expect(shell / solid).toBeCloseTo(Number(row.shell_Z_I), 6);
});

it('a solid section is pi d^3 / 32', () => {
  expect(solid).toBeCloseTo((Math.PI * DIAMETER_M ** 3) / 32, 12);
});
