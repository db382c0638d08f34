import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  fromSi,
  QUANTITIES,
  readNumber,
  toSi,
  UNIT_IDS,
  UNITS,
  type UnitId,
} from '../../core/intake/index.ts';

/*
 * Source: A. Thompson and B. N. Taylor, Guide for the Use of the International System of Units (SI), NIST Special Publication
 * 811, 2008 edition, appendix B.8, "Factors for units listed alphabetically". Factors as printed there, in bold (exact) or to
 * seven digits; agreement to the digits printed.
 */
const PRINTED: readonly [name: string, unit: UnitId, factor: number, exact: boolean][] = [
  ['foot (ft)', 'ft', 3.048e-1, true],
  ['inch (in)', 'in', 2.54e-2, true],
  ['pound (avoirdupois) (lb)', 'lb', 4.535924e-1, false],
  ['pound per cubic foot (lb/ft3)', 'lbPerFt3', 1.601846e1, false],
  ['pound-force per foot (lbf/ft)', 'lbfPerFt', 1.45939e1, false],
  ['acceleration of free fall, standard (gn)', 'g', 9.80665, true],
];

describe('toSi', () => {
  test.each(PRINTED)('%s', (_, unit, factor, exact) => {
    if (exact) expect(toSi(1, unit)).toBe(factor);
    else expect(Number(toSi(1, unit).toPrecision(7))).toBe(factor);
  });

  test('degree Fahrenheit: t/degC = (t/degF - 32) / 1.8', () => {
    // ice, a warm day, boiling water, and where both scales meet: known from the definition
    for (const [f, c] of [
      [32, 0],
      [77, 25],
      [212, 100],
      [-40, -40],
    ] as const) {
      expect(toSi(f, 'degF')).toBeCloseTo(c, 12);
    }
  });

  test('and back again gives what was typed', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        fc.constantFrom(...UNIT_IDS),
        (value, unit) => {
          expect(Math.abs(fromSi(toSi(value, unit), unit) - value)).toBeLessThanOrEqual(
            1e-9 * Math.max(1, Math.abs(value)),
          );
        },
      ),
    );
  });

  test('every quantity has a unit in both systems, of one kind', () => {
    for (const { metric, us } of Object.values(QUANTITIES)) {
      expect(UNITS[metric].symbol).not.toBe(UNITS[us].symbol);
    }
  });
});

describe('readNumber', () => {
  test.each([
    ['9.14', 9.14],
    ['  3,5 ', 3.5],
    ['-40', -40],
    ['\u22120.06', -0.06],
    ['.5', 0.5],
    ['36 1/2', 36.5],
    ['7/8', 0.875],
  ])('%s', (text, value) => {
    expect(readNumber(text)).toBe(value);
  });

  test.each([
    [`30'`, 30],
    [`30' 6"`, 30.5],
    ['30 ft 6 in', 30.5],
    [`6'6`, 6.5],
    [`30' 6 1/2"`, 30 + 6.5 / 12],
    ['30.5', 30.5],
  ])('%s in feet', (text, value) => {
    expect(readNumber(text, true)).toBeCloseTo(value, 12);
  });

  test.each(['', 'about 3', '1e3', '3.5.2', '1/0', '1,000.5', `30' 6"`, 'Infinity', '0x10'])(
    'refuses %s',
    (text) => {
      expect(readNumber(text)).toBeNull();
    },
  );
});
