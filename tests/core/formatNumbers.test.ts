import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  formatChance,
  formatCompared,
  formatDifference,
  formatEntered,
  formatEstimate,
  formatFigure,
  formatMeasured,
  formatMedian,
  formatNumber,
  formatQuantity,
  formatRange,
  formatTime,
  tellRatio,
  UNITS,
} from '../../core/formatNumbers.ts';

/**
 * Digits follow the rule of the Guide to the Expression of Uncertainty in Measurement (JCGM 100:2008, 7.2.6):
 * uncertainties to at most two significant digits, the estimate rounded to match. Expected texts are worked out by hand.
 */
describe('formatNumber', () => {
  it.each([
    [1234.5, 3, '1230'],
    [0.0012345, 2, '0.0012'],
    [9.996, 3, '10.0'],
    [0, 3, '0'],
    [-0.00001, 1, '−0.00001'],
    [-1234.5, 3, '−1230'],
    [Number.NaN, 3, 'no number'],
    [Number.POSITIVE_INFINITY, 3, 'unlimited'],
    [Number.NEGATIVE_INFINITY, 3, 'unlimited below'],
  ])('writes %d with %d digits as %s', (value, digits, text) => {
    expect(formatNumber(value, digits)).toBe(text);
  });

  it('agrees with toPrecision on the value that is shown', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-6, max: 1e9, noNaN: true }),
        fc.integer({ min: 1, max: 6 }),
        (value, digits) => {
          const step = 10 ** (Math.floor(Math.log10(value)) - digits + 1);
          expect(
            Math.abs(Number(formatNumber(value, digits)) - Number(value.toPrecision(digits))),
          ).toBeLessThanOrEqual(step * 1.001);
          expect(formatNumber(value, digits)).not.toContain('e');
        },
      ),
    );
  });
});

describe('formatRange', () => {
  it.each([
    [{ low: 799.6, high: 820.4 }, '800 to 820'],
    [{ low: 374.96, high: 413.9 }, '375 to 414'],
    [{ low: 0.7, high: 12 }, '0.70 to 12'],
    [{ low: 3, high: 3 }, '3.00 to 3.00'],
  ])('writes %o with the digits that its width has', (range, text) => {
    expect(formatRange(range, UNITS.kilogramPerCubicMetre)).toBe(`${text} kg/m³`);
  });
});

describe('formatEstimate', () => {
  it.each([
    [{ value: 10.42e9, low: 9.61e9, high: 11.32e9 }, UNITS.gigapascal, '10.4 (9.6 to 11.3) GPa'],
    [{ value: 91.1e3, low: 62.4e3, high: 124.8e3 }, UNITS.kilonewtonMetre, '91 (62 to 125) kN·m'],
    [{ value: 0.934, low: 0.888, high: 0.965 }, UNITS.none, '0.934 (0.888 to 0.965)'],
    [{ value: 20, low: 3.02, high: 1004 }, UNITS.none, '20 (3.0 to 1000)'],
    [{ value: 450.2, low: 377, high: 531 }, UNITS.kilogramPerCubicMetre, '450 (380 to 530) kg/m³'],
    [{ value: 2, low: 2, high: 2 }, UNITS.metre, '2.00 (2.00 to 2.00) m'],
  ])('lets the width of %o choose the digits', (estimate, unit, text) => {
    expect(formatEstimate(estimate, unit)).toBe(text);
  });

  it('never shows the low end of a positive interval as nothing', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
        fc.double({ min: 1.001, max: 1e4, noNaN: true }),
        (low, ratio) => {
          const text = formatEstimate({ value: low * Math.sqrt(ratio), low, high: low * ratio }, UNITS.none);
          expect(Number(/\((\S+) to/.exec(text)![1])).toBeGreaterThan(0);
        },
      ),
    );
  });
});

describe('formatMedian', () => {
  it('is the median of the whole estimate, with its digits and unit', () => {
    // 2236 (785 to 11066) kN·m/rad: the ends lie more than ten times apart, so two digits
    const stiffness = { value: 2.236e6, low: 0.785e6, high: 11.066e6 };
    expect(formatEstimate(stiffness, UNITS.meganewtonMetrePerRadian)).toBe('2.2 (0.79 to 11) MN·m/rad');
    expect(formatMedian(stiffness, UNITS.meganewtonMetrePerRadian)).toBe('2.2 MN·m/rad');
  });
});

describe('formatFigure', () => {
  it.each([
    [0.0000117, 'under 0.001'],
    [-0.0000117, 'under 0.001'],
    [0.00376, '0.0038'],
    [0, '0'],
    [0.9724, '0.97'],
    [23.46, '23'],
  ])('writes %d as %s', (value, text) => {
    expect(formatFigure(value)).toBe(text);
  });
});

describe('formatMeasured', () => {
  it('writes the standard deviation with two digits and the value to match', () => {
    expect(formatMeasured({ value: 2.7899, sd: 0.01178 }, UNITS.hertz)).toBe('2.790 ± 0.012 Hz');
    expect(formatMeasured({ value: 0.0123, sd: 0.0021 }, UNITS.percent)).toBe('1.23 ± 0.21 %');
  });

  it('leaves out a deviation that is not known', () => {
    expect(formatMeasured({ value: 2.7899, sd: 0 }, UNITS.hertz)).toBe('2.79 Hz');
    expect(formatMeasured({ value: 2.7899, sd: Number.NaN }, UNITS.hertz)).toBe('2.79 Hz');
  });
});

describe('formatChance', () => {
  it.each([
    [0, 'under 1 %'],
    [0.0099, 'under 1 %'],
    [0.29, '29 %'],
    [0.9901, 'over 99 %'],
    [1, 'over 99 %'],
    [null, 'not told'],
    [Number.NaN, 'not told'],
  ])('writes %s as %s', (chance, text) => {
    expect(formatChance(chance)).toBe(text);
  });
});

describe('a difference and its figures', () => {
  it.each([
    [0.0431, '+4 %'],
    [-0.118, '−12 %'],
    [-0.004, '0 %'],
    [null, 'none'],
    [Number.NaN, 'none'],
  ])('writes a share of %s as %s', (share, text) => {
    expect(formatDifference(share)).toBe(text);
  });

  it.each([
    [0.88, '12 % lower'],
    [1.043, '4 % higher'],
  ])('tells a ratio of %s as %s', (ratio, text) => {
    expect(tellRatio(ratio)).toBe(text);
  });

  it('shows an estimate beside its change with three digits at least, and else with those of its interval', () => {
    const capacity = { value: 116.4e3, low: 82.1e3, high: 193.6e3 };
    expect(formatEstimate(capacity, UNITS.kilonewtonMetre)).toBe('120 (80 to 190) kN·m');
    expect(formatCompared(capacity, UNITS.kilonewtonMetre)).toBe('116 (82 to 194) kN·m');
    const sharp = { value: 51.26e3, low: 50.91e3, high: 51.63e3 };
    expect(formatCompared(sharp, UNITS.kilonewtonMetre)).toBe(formatEstimate(sharp, UNITS.kilonewtonMetre));
  });

  it('comes to within a percent of what the figures come to', () => {
    const median = fc.double({ min: 1, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(median, fc.double({ min: 0.5, max: 2, noNaN: true }), (before, ratio) => {
        const shown = [before, before * ratio].map((value) =>
          Number(formatCompared({ value, low: value / 1.5, high: value * 1.5 }, UNITS.none).split(' ')[0]),
        );
        const told =
          Number(
            formatDifference(ratio - 1)
              .replace('−', '-')
              .replace(' %', ''),
          ) / 100;
        // half a percent by the rounding of the percent, and up to twice a hundredth and a half by two figures of three digits
        expect(Math.abs(shown[1]! / shown[0]! - 1 - told)).toBeLessThan(0.02);
      }),
    );
  });
});

describe('quantities and times', () => {
  it('scales to the unit and says where nothing is stated', () => {
    expect(formatQuantity(80_512, UNITS.kilonewtonMetre)).toBe('80.5 kN·m');
    expect(formatQuantity(null, UNITS.metre)).toBe('not stated');
  });

  it('keeps the digits of what was entered', () => {
    expect(formatEntered(0.0375, UNITS.millimetre)).toBe('37.5 mm');
    expect(formatEntered(9.14, UNITS.metre)).toBe('9.14 m');
    expect(formatEntered(-0.25, UNITS.metre)).toBe('−0.25 m');
  });

  it('shortens a time of ISO 8601 in UTC and leaves others', () => {
    expect(formatTime('2026-05-04T10:12:33.123Z')).toBe('2026-05-04 10:12 UTC');
    expect(formatTime('4 May')).toBe('4 May');
  });
});
