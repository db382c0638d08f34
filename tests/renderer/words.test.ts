import { expect, test } from 'vitest';
import {
  formatChance,
  formatEstimate,
  formatKiloNewtonMetres,
  formatMedian,
  formatSignificant,
} from '../../renderer/words/index.ts';

test.each([
  [2.7912, '2.79'],
  [27.49, '27.5'],
  [1234, '1234'],
  [0, '0'],
  [0.0415, '0.0415'],
  [-0.5, '−0.500'],
  [4.6e-4, '4.60×10⁻⁴'],
  [2.5e6, '2.50×10⁶'],
  [null, 'none'],
  [Number.NaN, 'none'],
])('%s reads %s', (value, words) => {
  expect(formatSignificant(value)).toBe(words);
});

test.each([
  [10.4e9, 9.6e9, 11.3e9, 1e9, 'GPa', '10.4 (9.6 to 11.3) GPa'],
  [74.02e3, 55.2e3, 99.1e3, 1e3, 'kN·m', '74 (55 to 99) kN·m'],
  [0.83, 0.78, 0.88, 1, '', '0.83 (0.78 to 0.88)'],
  [203e3, 151e3, 273e3, 1e3, 'kN·m', '200 (150 to 270) kN·m'],
])('an estimate shows two digits of its interval: %s', (value, low, high, perUnit, unit, words) => {
  expect(formatEstimate({ value, low, high }, unit, perUnit)).toBe(words);
});

test.each([
  [0.07, '7 %'],
  [0.004, 'under 1 %'],
  [0.999, 'over 99 %'],
  [null, 'not told'],
])('a chance of %s reads %s', (chance, words) => {
  expect(formatChance(chance)).toBe(words);
});

test('a median alone has the digits of its interval', () => {
  expect(formatMedian({ value: 9.36e9, low: 7.9e9, high: 11.1e9 }, 1e9)).toBe('9.4');
});

test('a moment is shown in kN·m', () => {
  expect(formatKiloNewtonMetres(60_900)).toBe('60.9 kN·m');
});
