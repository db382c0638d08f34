/** The study of the checks (bench/checksStudy.ts, docs/studies/checks.md) in a small form with a seed of its own. */
import { describe, expect, test } from 'vitest';
import { runChecksStudy, STUDIED } from './checksStudy.ts';

const A_CELL = 3;
const GOOD = 20;
const cases = runChecksStudy('small', A_CELL, GOOD);
const good = cases.filter(({ fault }) => fault === null);

describe('checks on simulated strikes with known faults', () => {
  test.each(STUDIED)('%s: strong faults are told, good strikes are not blamed', (id) => {
    const strong = cases.filter(({ fault, strength }) => fault === id && strength === 'strong');
    expect(strong).toHaveLength(A_CELL);
    // A fault so strong that the blow is not found leaves nothing to be used.
    const missed = strong.filter(({ told }) => told !== null && !told.includes(id));
    expect(missed.length).toBeLessThanOrEqual(1);
    expect(good.filter(({ told }) => told?.includes(id)).length).toBeLessThanOrEqual(1);
  });

  test('nine tenths of clear faults are told', () => {
    const clear = cases.filter(({ strength }) => strength === 'clear');
    const told = clear.filter((one) => one.told?.includes(one.fault!) ?? false);
    expect(told.length / clear.length).toBeGreaterThan(0.9);
  });

  test('no good strike is refused, and its onset is placed to two samples at 2 kHz', () => {
    expect(good.filter(({ verdict }) => verdict === null || verdict === 'repeat')).toEqual([]);
    expect(good.filter(({ lateS }) => !(Math.abs(lateS!) <= 0.001))).toEqual([]);
  });

  test('under noise of up to 0.3 of the peak onsets stay within 8 ms, most within 5', () => {
    const noisy = cases.flatMap(({ fault, lateS }) => (fault === 'noise' ? [Math.abs(lateS!)] : []));
    expect(Math.max(...noisy)).toBeLessThan(0.008);
    expect(noisy.filter((late) => late <= 0.005).length / noisy.length).toBeGreaterThan(0.8);
  });
});
