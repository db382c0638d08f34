import { expect, test } from 'vitest';
import { nameAlike, showPercent, stepOf } from '../../renderer/calibration/threshold/priceAt.ts';

// tests with chances of 0.02, 0.04 and 0.5: parted half way between them
const STEPS = [
  { threshold: 0, highest: 0.02 },
  { threshold: 0.03, highest: 0.04 },
  { threshold: 0.27, highest: 0.5 },
  { threshold: null, highest: null },
] as unknown as Parameters<typeof stepOf>[0];

test('a threshold has the price of those that part the tests alike, not that of the nearest parting', () => {
  // from 5 %, only the test at 0.5 is replaced; from 50 % it still is, from above that none
  expect([0, 0.02, 0.03, 0.05, 0.5, 0.51, null].map((threshold) => stepOf(STEPS, threshold))).toEqual([
    0, 0, 1, 2, 2, 3, 3,
  ]);
  expect(STEPS.map((_, at) => nameAlike(STEPS, at))).toEqual([
    'the same up to 2.0 %',
    'the same above 2.0 % up to 4.0 %',
    'the same above 4.0 % up to 50 %',
    'the same above 50 %',
  ]);
});

test('a threshold that was typed is shown with all its digits', () => {
  expect([0.125, 0.07, 0.27].map((threshold) => showPercent(STEPS, threshold))).toEqual([
    '12.5',
    '7',
    '27.0',
  ]);
});
