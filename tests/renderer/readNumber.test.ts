import { expect, test } from 'vitest';
import { readNumber } from '../../renderer/parts/readNumber.ts';

const limits = (unit: string) => ({ least: 0.001, most: 10_000, unit });

test('a number may be typed with a unit of its quantity, and becomes one of its field', () => {
  // NIST SP 811, appendix B.8
  expect(readNumber('30 ft', limits('m'))).toEqual({ number: 9.144 });
  expect(readNumber('0,25in', limits('m'))).toEqual({ number: 0.00635 });
  expect(readNumber('9.1 m', limits('m'))).toEqual({ number: 9.1 });
  expect(readNumber('10 ft2', limits('m²'))).toEqual({ number: 0.9290304 });
  expect(readNumber('500 lb', limits('kg'))).toEqual({ number: 226.796185 });
  expect(readNumber('500 lbf', limits('N'))).toEqual({ number: 2224.11080763 });
  expect(readNumber('4 psf', limits('Pa'))).toEqual({ number: 191.521035921 });
  expect(readNumber('1e3', limits('m'))).toEqual({ number: 1000 });
  for (const text of ['30 lb', '30 yd', 'ft', '3 ft 6 in', '40000 ft'])
    expect(readNumber(text, limits('m'))).toEqual({ wrong: 'type a number from 0.001 to 10000 m' });
});

test('conductors are counted whole', () => {
  const count = { least: 1, most: 100, unit: '', isWhole: true };
  expect(readNumber('3', count)).toEqual({ number: 3 });
  expect(readNumber('2.5', count)).toEqual({ wrong: 'type a whole number from 1 to 100' });
});

test('a comma that may part thousands or decimals is asked about where both could be meant', () => {
  const force = { least: 1, most: 100_000, unit: 'N' };
  const words = 'type 1500, or 1.500 with a point: the comma may mean either';
  expect(readNumber('1,500', force)).toEqual({ wrong: words });
  expect(readNumber('1,500 lbf', force)).toEqual({ wrong: words });
  expect(readNumber('1,5', force)).toEqual({ number: 1.5 });
  // no pole rings at 6914 Hz
  expect(readNumber('6,914', { least: 0, most: 60, unit: 'Hz' })).toEqual({ number: 6.914 });
});
