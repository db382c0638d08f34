import { describe, expect, test } from 'vitest';
import { findStrikes } from '../../core/signal/index.ts';
import { createNoise, POLE_MODES, ringPole, type TestBlow } from './makeStrike.ts';

const HAMMER = { contactS: 0.005, force: 2000 };
const HAND = { contactS: 0.03, force: 500 };

function record(
  blows: readonly TestBlow[],
  sampleRateHz: number,
  durationS: number,
  noise: number,
): Float64Array[] {
  const clean = ringPole(POLE_MODES, blows, sampleRateHz, durationS);
  return [1, 0.8].map((share, c) => {
    const hiss = createNoise(clean.length, c + 1);
    return clean.map((value, i) => share * value + noise * hiss[i]!);
  });
}

describe('findStrikes', () => {
  test.each([1000, 2000, 4000, 12_000, 48_000])(
    'places clean onsets to a few samples at %i Hz',
    (sampleRateHz) => {
      const starts = [1, 6.25];
      for (const exciter of [HAMMER, HAND]) {
        const channels = record(
          starts.map((startS) => ({ ...exciter, startS })),
          sampleRateHz,
          11,
          1e-4,
        );
        const strikes = findStrikes(channels, sampleRateHz);
        expect(strikes).toHaveLength(2);
        strikes.forEach((strike, i) => {
          // The force of a half sine starts at zero and takes a tenth of its contact to show over the noise.
          const lateS = strike.startS - starts[i]!;
          expect(lateS).toBeGreaterThan(-2.5 / sampleRateHz);
          expect(lateS).toBeLessThan(2.5 / sampleRateHz + 0.1 * exciter.contactS);
        });
      }
    },
  );

  test('places onsets within 5 ms at 10 dB of peak over noise', () => {
    const clean = ringPole(POLE_MODES, [{ ...HAMMER, startS: 1 }], 2000, 6);
    const peak = clean.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    for (let seed = 1; seed <= 10; seed++) {
      const hiss = createNoise(clean.length, seed);
      const noise = peak / 10 ** (10 / 20);
      const strikes = findStrikes([clean.map((value, i) => value + (noise / 3) * hiss[i]!)], 2000);
      expect(strikes.length).toBeGreaterThan(0);
      expect(Math.abs(strikes[0]!.startS - 1)).toBeLessThan(0.005);
    }
  });

  test('a second impact within the ring-down belongs to the strike; later ones are strikes', () => {
    const blows = [1, 1.05, 5, 6.4, 9].map((startS) => ({ ...HAMMER, startS }));
    const strikes = findStrikes(record(blows, 2000, 14, 1e-3), 2000);
    expect(strikes.map((strike) => Math.round(strike.startS))).toEqual([1, 5, 9]);
  });

  test('a touch before the blow does not take its place', () => {
    const blows = [
      { ...HAMMER, force: 60, startS: 1 },
      { ...HAMMER, startS: 1.6 },
    ];
    const strikes = findStrikes(record(blows, 2000, 8, 1e-3), 2000);
    expect(strikes).toHaveLength(1);
    expect(strikes[0]!.startS).toBeCloseTo(1.6, 2);
  });

  test('the ring-down ends at the next strike, in the noise, or with the record', () => {
    const blows = [1, 4].map((startS) => ({ ...HAMMER, startS }));
    const [first, second] = findStrikes(record(blows, 2000, 40, 1e-2), 2000);
    expect(first!.endReason).toBe('next strike');
    expect(first!.endIndex).toBeLessThan(second!.startIndex);
    expect(second!.endReason).toBe('noise');
    expect(second!.endS).toBeLessThan(35);
    const [only] = findStrikes(record([{ ...HAMMER, startS: 1 }], 2000, 3, 1e-3), 2000);
    expect(only!.endReason).toBe('record end');
    expect(only!.endIndex).toBe(6000);
  });

  test('noise and peak are measured', () => {
    const channels = record([{ ...HAMMER, startS: 1.5 }], 2000, 6, 0.02);
    const [strike] = findStrikes(channels, 2000);
    expect(strike!.noise.source).toBe('before');
    // 2800 samples: the level scatters by 1.3 %.
    for (const rms of strike!.noiseRms) expect(Math.abs(rms / 0.02 - 1)).toBeLessThan(0.06);
    expect(strike!.peak[1]! / strike!.peak[0]!).toBeCloseTo(0.8, 1);
    expect(strike!.preTriggerStartIndex).toBe(strike!.startIndex - 2000);
  });

  test('offset, drift and a dead channel do not hide a strike', () => {
    const [live] = record([{ ...HAMMER, startS: 2 }], 2000, 8, 1e-3);
    const drifting = live!.map((value, i) => value + 50 + i / 4000);
    const strikes = findStrikes([drifting, new Float64Array(drifting.length)], 2000);
    expect(strikes).toHaveLength(1);
    expect(strikes[0]!.startS).toBeCloseTo(2, 2);
  });

  test.each([50, 60])(
    'hum at %i Hz and its third of up to 0.4 of the peak does not hide a strike',
    (mainsHz) => {
      for (const share of [0.1, 0.2, 0.4]) {
        for (const exciter of [HAMMER, HAND]) {
          const [live] = record([{ ...exciter, startS: 2 }], 2000, 8, 1e-3);
          const peak = live!.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
          const humming = live!.map((value, i) => {
            const turn = (2 * Math.PI * mainsHz * i) / 2000;
            return value + share * peak * (Math.sin(turn) + 0.3 * Math.sin(3 * turn));
          });
          const strikes = findStrikes([humming], 2000);
          expect(strikes).toHaveLength(1);
          expect(Math.abs(strikes[0]!.startS - 2)).toBeLessThan(0.02);
        }
      }
    },
  );

  test('nothing is found in noise, silence, or a record of a moment', () => {
    for (let seed = 1; seed <= 20; seed++) expect(findStrikes([createNoise(20_000, seed)], 2000)).toEqual([]);
    expect(findStrikes([new Float64Array(20_000)], 2000)).toEqual([]);
    expect(findStrikes([createNoise(100, 1)], 2000)).toEqual([]);
  });

  test.each([
    [[], 2000, /0 channels/],
    [[new Float64Array(100), new Float64Array(99)], 2000, /100, 99 samples/],
    [[new Float64Array(3)], 2000, /3 samples/],
    [[new Float64Array(100).fill(Number.NaN)], 2000, /Sample 0 is NaN/],
    [[new Float64Array(100)], -1, /rate is -1 Hz/],
  ])('refuses what it cannot use', (channels, sampleRateHz, message) => {
    expect(() => findStrikes(channels, sampleRateHz)).toThrow(message);
  });
});
