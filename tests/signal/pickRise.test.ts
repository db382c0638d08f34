import { describe, expect, test } from 'vitest';
import { findStrikes } from '../../core/signal/index.ts';
import { pickRise } from '../../core/signal/pickRise.ts';
import { createNoise, POLE_MODES, ringPole } from './makeStrike.ts';

const RATE_HZ = 1000;

/** At rest at 2, then a slope of one in 10 ms. */
function makeRise(onset: number, noise: Float64Array): Float64Array {
  return noise.map((value, i) => 2 + value + (i < onset ? 0 : (i - onset) / 10));
}

describe('pickRise', () => {
  test('finds where a clean rise leaves its level, by hand', () => {
    const clean = makeRise(200, new Float64Array(400));
    // sample 200 still lies at the level, so the rise may begin with it or with the next
    expect([200, 201]).toContain(pickRise([clean], RATE_HZ, [1e-4], 203));
  });

  test('finds it in two channels of noise to 3 ms, from a guess 4 ms late', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const channels = [seed, seed + 100].map((own) =>
        makeRise(
          200,
          createNoise(400, own).map((value) => 0.1 * value),
        ),
      );
      expect(Math.abs(pickRise(channels, RATE_HZ, [0.01, 0.01], 204) - 200)).toBeLessThanOrEqual(3);
    }
  });

  test('leaves the guess alone where there is no rest ahead of it', () => {
    expect(pickRise([makeRise(0, new Float64Array(400))], RATE_HZ, [1], 10)).toBe(10);
  });
});

describe('onsets in noise', () => {
  // Decibels of the peak over the noise up to 1 kHz. A blow by hammer is short: at 10 dB it is seldom found at all.
  test.each([
    ['hammer', 0.005, 15],
    ['hand', 0.03, 10],
  ] as const)('by %s (contact %f s) %i dB over it lie within 5 ms, 19 of 20', (_, contactS, decibels) => {
    const clean = ringPole(POLE_MODES, [{ startS: 1, contactS, force: 1000 }], 2000, 6);
    const peak = clean.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    const late = Array.from({ length: 20 }, (_unused, k) => {
      const channels = [1, 0.8].map((share, c) => {
        const hiss = createNoise(clean.length, 10 * k + c + 1);
        return clean.map((value, i) => share * value + peak * 10 ** (-decibels / 20) * hiss[i]!);
      });
      const [first] = findStrikes(channels, 2000);
      return first === undefined ? null : Math.abs(first.startS - 1);
    });
    const found = late.filter((value) => value !== null);
    expect(found.length).toBeGreaterThan(10);
    expect(found.filter((value) => value > 0.005).length).toBeLessThanOrEqual(1);
  });
});
