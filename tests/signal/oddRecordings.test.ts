import fc from 'fast-check';
import { expect, test } from 'vitest';
import { judgeVisit } from '../../core/signal/index.ts';
import { createNoise, ringPole } from './makeStrike.ts';

/**
 * Strange but finite recordings: any rate, length, level and number of channels; steps, spikes, silence, dead
 * channels.
 */
const oddRecording = fc.record({
  sampleRateHz: fc.constantFrom(20, 51.2, 100, 333, 1000, 2999, 12_800),
  durationS: fc.double({ min: 0.05, max: 6, noNaN: true }),
  level: fc.constantFrom(0, 1e-12, 1e-3, 1, 1e8),
  noise: fc.constantFrom(0, 1e-15, 1e-3, 1),
  step: fc.constantFrom(0, 5, 1e8),
  spikeEvery: fc.constantFrom(0, 7, 500),
  channels: fc.integer({ min: 1, max: 3 }),
  deadChannel: fc.boolean(),
  startsS: fc.array(fc.double({ min: 0, max: 6, noNaN: true }), { maxLength: 4 }),
  exciter: fc.constantFrom('hammer' as const, 'hand' as const, 'unknown' as const),
  coarse: fc.boolean(),
});

test('whatever is finite is judged, with finite figures and ordered ends', () => {
  fc.assert(
    fc.property(oddRecording, (odd) => {
      const modes = [{ frequencyHz: 2, dampingRatio: 0.02, gain: odd.level }];
      const blows = odd.startsS.map((startS) => ({ startS, contactS: 0.01, force: 1 }));
      const clean = ringPole(modes, blows, odd.sampleRateHz, odd.durationS);
      fc.pre(clean.length >= 16);
      const channels = Array.from({ length: odd.channels }, (_, index) => {
        const hiss = createNoise(clean.length, index + 1);
        const samplesMPerS2 = clean.map((value, i) => {
          if (odd.deadChannel && index === 0) return 0;
          const spike = odd.spikeEvery > 0 && i % odd.spikeEvery === 0 ? odd.level : 0;
          const whole = value + odd.noise * hiss[i]! + (i > clean.length / 2 ? odd.step : 0) + spike;
          return odd.coarse ? Math.round(whole) : whole;
        });
        return {
          index,
          samplesMPerS2,
          fullScaleMPerS2: null,
          azimuthDeg: 90 * index,
          heightM: null,
          cornerHz: null,
        };
      });
      const { recordings, repeatability } = judgeVisit([
        {
          fileName: 'odd',
          sampleRateHz: odd.sampleRateHz,
          frames: clean.length,
          exciter: odd.exciter,
          channels,
          warnings: [],
        },
      ]);
      let last = 0;
      for (const { strike, checks } of recordings[0]!.strikes) {
        expect(strike.startIndex).toBeGreaterThanOrEqual(last);
        expect(strike.preTriggerStartIndex).toBeLessThanOrEqual(strike.startIndex);
        expect(strike.endIndex).toBeGreaterThan(strike.startIndex);
        expect(strike.endIndex).toBeLessThanOrEqual(clean.length);
        last = strike.endIndex;
        for (const { id, value } of checks) expect(Number.isFinite(value ?? 0), `${id} ${value}`).toBe(true);
      }
      for (const { check } of repeatability) expect(Number.isFinite(check.value ?? 0)).toBe(true);
    }),
    { seed: 30, numRuns: 400 },
  );
});
