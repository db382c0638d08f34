import { expect, test } from 'vitest';
import { nameAlike, showPercent, stepOf } from '../../renderer/calibration/threshold/priceAt.ts';

// tests with chances of 0.02, 0.04 and 0.5: parted half way between them
const STEPS = [
  { threshold: 0, above: null, highest: 0.02 },
  { threshold: 0.03, above: 0.02, highest: 0.04 },
  { threshold: 0.27, above: 0.04, highest: 0.5 },
  { threshold: null, above: 0.5, highest: null },
] as unknown as Parameters<typeof stepOf>[0];

test('a threshold has the price of those that part the tests alike, not that of the nearest parting', () => {
  // from 5 %, only the test at 0.5 is replaced; from 50 % it still is, from above that none
  expect([0, 0.02, 0.03, 0.05, 0.5, 0.51, null].map((threshold) => stepOf(STEPS, threshold))).toEqual([
    0, 0, 1, 2, 2, 3, 3,
  ]);
  expect(STEPS.map((step) => nameAlike(step, step.threshold))).toEqual([
    'the same up to 2.0 %',
    'the same above 2.0 % up to 4.0 %',
    'the same above 4.0 % up to 50 %',
    'the same above 50 %',
  ]);
});

test('a threshold between two of a thinned list has nearly the price of the one above it', () => {
  const thinned = [STEPS[0]!, STEPS[2]!, STEPS[3]!];
  expect(stepOf(thinned, 0.03)).toBe(1);
  expect(nameAlike(thinned[1]!, 0.03)).toBe('nearly the same as above 4.0 % up to 50 %');
  expect(nameAlike(thinned[1]!, 0.04)).toBe('nearly the same as above 4.0 % up to 50 %');
  expect(nameAlike(thinned[1]!, 0.041)).toBe('the same above 4.0 % up to 50 %');
});

test('both ends of what is the same have the digits that tell them apart', () => {
  const between = (above: number | null, highest: number | null) =>
    nameAlike({ threshold: null, above, highest } as Parameters<typeof nameAlike>[0], null);
  expect(between(0.1234, 0.1238)).toBe('the same above 12.34 % up to 12.38 %');
  expect(between(0.0412, 0.0457)).toBe('the same above 4.1 % up to 4.6 %');
  expect(between(null, 0)).toBe('the same up to 0 %');
  expect(between(null, 0.00002)).toBe('the same up to 0.002 %');
  expect(between(0.9998, null)).toBe('the same above 99.98 %');
});

test('a threshold that was typed is shown with all its digits', () => {
  expect([0.125, 0.07, 0.27].map((threshold) => showPercent(STEPS, threshold))).toEqual([
    '12.5',
    '7',
    '27.0',
  ]);
});
