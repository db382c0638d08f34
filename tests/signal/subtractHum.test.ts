/** Hum of the mains in the search of blows: invented recordings, the answer known. */
import { describe, expect, test } from 'vitest';
import { subtractHum } from '../../core/signal/subtractHum.ts';
import { createNoise } from './makeStrike.ts';

const RATE_HZ = 2000;
const SECONDS = 20;

/** Hum of 50 Hz and its third harmonic over a little noise, where `isOn` says so of the period. */
function hum(isOn: (period: number) => boolean): Float64Array {
  return createNoise(SECONDS * RATE_HZ, 3).map((noise, i) => {
    const phase = (2 * Math.PI * 50 * i) / RATE_HZ;
    const level = isOn(Math.floor((50 * i) / RATE_HZ)) ? 1 : 0;
    return 0.01 * noise + level * (Math.sin(phase) + 0.3 * Math.sin(3 * phase));
  });
}

const isTakenOff = (samples: Float64Array) => subtractHum(samples, RATE_HZ) !== samples;

describe('subtractHum', () => {
  test('takes off what fills all of a recording', () => {
    const all = hum(() => true);
    const left = subtractHum(all, RATE_HZ).subarray(RATE_HZ);
    expect(Math.max(...left.map(Math.abs))).toBeLessThan(0.15);
  });

  test.each([
    ['the first half', (period: number) => period < 25 * SECONDS],
    ['the second half', (period: number) => period >= 25 * SECONDS],
  ])('leaves a recording alone that has hum in %s alone: its quiet part is the other', (_, isOn) => {
    expect(isTakenOff(hum(isOn))).toBe(false);
  });

  test.each([0, 1, 2, 3])(
    'says the same of hum that is switched every few periods, from whichever on: %i',
    (first) => {
      expect(isTakenOff(hum((period) => (period + first) % 4 === 0))).toBe(false);
      expect(isTakenOff(hum((period) => (period + first) % 4 !== 0))).toBe(true);
    },
  );
});
