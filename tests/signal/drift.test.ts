/**
 * What drift removal and exponential windows do to a mode, measured by a least-squares fit of one decaying sine. The damping that a
 * window adds is a closed form (header of tests/reference/data/damping-relations.csv).
 */
import { describe, expect, test } from 'vitest';
import { correctDampingForWindow, removeDrift } from '../../core/signal/index.ts';
import { readReferenceTable } from '../reference/readReferenceTable.ts';
import { fitDecay } from './fitDecay.ts';
import { createNoise } from './makeStrike.ts';

const RATE_HZ = 200;

function ring(frequencyHz: number, dampingRatio: number, durationS: number, phase: number): Float64Array {
  const omega = 2 * Math.PI * frequencyHz;
  const damped = omega * Math.sqrt(1 - dampingRatio ** 2);
  return Float64Array.from({ length: durationS * RATE_HZ }, (_, i) => {
    const t = i / RATE_HZ;
    return Math.exp(-dampingRatio * omega * t) * Math.cos(damped * t + phase);
  });
}

/** Half the first amplitude of offset, a slope, and a sensor that settles. */
const drift = (t: number) => 0.5 + 0.05 * t + 0.3 * Math.exp(-t / 2.5);

describe('removeDrift', () => {
  test.each([0.01, 0.02, 0.05])('leaves a mode at 1 Hz with damping ratio %d where it is', (dampingRatio) => {
    for (const durationS of [8, 10, 30]) {
      for (const phase of [0, 1, 2, 3]) {
        const fit = fitDecay(
          removeDrift(ring(1, dampingRatio, durationS, phase), RATE_HZ),
          RATE_HZ,
          1,
          dampingRatio,
        );
        expect(Math.abs(fit.frequencyHz - 1)).toBeLessThan(1e-5);
        expect(Math.abs(fit.dampingRatio / dampingRatio - 1)).toBeLessThan(1e-3);
      }
    }
  });

  test('takes a drift of half the first amplitude from under it: 0.05 % and 3 % of error in 10 s, not 1 % and 75 %', () => {
    for (const dampingRatio of [0.01, 0.02, 0.05]) {
      for (const phase of [0, 1, 2, 3]) {
        const drifting = ring(1, dampingRatio, 10, phase).map((value, i) => value + drift(i / RATE_HZ));
        const fit = fitDecay(removeDrift(drifting, RATE_HZ), RATE_HZ, 1, dampingRatio);
        expect(Math.abs(fit.frequencyHz - 1)).toBeLessThan(1e-3);
        expect(Math.abs(fit.dampingRatio / dampingRatio - 1)).toBeLessThan(0.03);
      }
    }
  });

  test('works beside two close modes, higher ones and noise', () => {
    const noise = createNoise(12 * RATE_HZ, 4);
    const second = ring(1.06, 0.02, 12, 1);
    const high = ring(13, 0.01, 12, 1);
    const wanted = ring(1, 0.02, 12, 0);
    const mixed = wanted.map((value, i) => value + 0.7 * second[i]! + 3 * high[i]!);
    const out = removeDrift(
      mixed.map((value, i) => value + drift(i / RATE_HZ) + 0.01 * noise[i]!),
      RATE_HZ,
    );
    const off = out.map((value, i) => value - mixed[i]!).subarray(RATE_HZ, -RATE_HZ);
    expect(Math.sqrt(off.reduce((sum, value) => sum + value ** 2, 0) / off.length)).toBeLessThan(0.03);
  });

  test('a dead channel stays dead, a constant and a line vanish, short records lose their mean', () => {
    for (const value of removeDrift(new Float64Array(4000), 200)) expect(Math.abs(value)).toBeLessThan(1e-12);
    const line = Float64Array.from({ length: 4000 }, (_, i) => 3 + i / 1000);
    for (const value of removeDrift(line, 200)) expect(Math.abs(value)).toBeLessThan(1e-6);
    expect([...removeDrift(Float64Array.of(1, 3), 200)]).toEqual([-1, 1]);
    expect(() => removeDrift(Float64Array.of(1), 200)).toThrow(/1 samples/);
  });
});

describe('exponential window', () => {
  test.each(
    readReferenceTable('damping-relations.csv')
      .map((row) => Number(row.zeta))
      .filter((zeta) => zeta <= 0.05),
  )('its damping comes off a ratio of %d', (dampingRatio) => {
    for (const timeConstantS of [0.5, 2, 8]) {
      const window = Float64Array.from({ length: 8 * RATE_HZ }, (_, i) =>
        Math.exp(-i / (RATE_HZ * timeConstantS)),
      );
      const windowed = ring(4, dampingRatio, 8, 0.3).map((value, i) => value * window[i]!);
      const added = 1 / (2 * Math.PI * 4 * timeConstantS);
      const fit = fitDecay(windowed, RATE_HZ, 4, dampingRatio + added);
      expect(fit.dampingRatio).toBeGreaterThan(dampingRatio + 0.9 * added);
      // The closed form is of first order: what is left goes with the third power of the damping ratio.
      const corrected = correctDampingForWindow(fit.dampingRatio, fit.frequencyHz, timeConstantS);
      expect(Math.abs(corrected - dampingRatio)).toBeLessThan((dampingRatio + added) ** 3 + 1e-6);
    }
  });

  test('may say that nothing is left, and refuses what has no meaning', () => {
    expect(correctDampingForWindow(0.001, 1, 10)).toBeLessThan(0);
    expect(() => correctDampingForWindow(0.01, 0, 1)).toThrow(/frequencyHz .* is 0/);
    expect(() => correctDampingForWindow(0.01, 1, Number.NaN)).toThrow(/timeConstantS/);
  });
});
