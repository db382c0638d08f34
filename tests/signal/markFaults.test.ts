import { expect, test } from 'vitest';
import type { CalibratedRecording } from '../../core/recording/index.ts';
import { type FaultMark, findStrikes, judgeStrike, markFaults } from '../../core/signal/index.ts';
import { createNoise, POLE_MODES, ringPole, type TestBlow } from './makeStrike.ts';

const RATE_HZ = 2000;
const HAND: TestBlow = { startS: 1, contactS: 0.03, force: 500 };

type Spoil = (samples: Float64Array) => Float64Array;

function markFirst(options: {
  blows?: readonly TestBlow[];
  shares?: readonly number[];
  fullScaleMPerS2?: number;
  durationS?: number;
  cornerHz?: number;
  spoil?: Spoil;
}): FaultMark[] {
  const clean = ringPole(POLE_MODES, options.blows ?? [HAND], RATE_HZ, options.durationS ?? 11);
  const channels = (options.shares ?? [1, 0.8]).map((share, index) => {
    const hiss = createNoise(clean.length, index + 5);
    const samples = clean.map((value, i) => share * value + 1e-3 * hiss[i]!);
    return {
      index,
      samplesMPerS2: options.spoil?.(samples) ?? samples,
      fullScaleMPerS2: options.fullScaleMPerS2 ?? 98.1,
      azimuthDeg: 90 * index,
      heightM: 2,
      cornerHz: options.cornerHz ?? 0.2,
    };
  });
  const recording: CalibratedRecording = {
    fileName: 'made.wav',
    sampleRateHz: RATE_HZ,
    frames: clean.length,
    exciter: 'hand',
    channels,
    warnings: [],
  };
  const [strike] = findStrikes(
    channels.map(({ samplesMPerS2 }) => samplesMPerS2),
    RATE_HZ,
  );
  return markFaults(recording, strike!, judgeStrike(recording, strike!).checks);
}

const of = (marks: readonly FaultMark[], fault: string) => marks.filter((mark) => mark.fault === fault);

test('a good blow has no mark', () => {
  expect(markFirst({})).toEqual([]);
});

test('a second impact is marked where it was made', () => {
  const second = { ...HAND, startS: 1.2, force: 450 };
  const [mark] = of(markFirst({ blows: [HAND, second] }), 'double-blow');
  // somewhere within its contact
  expect(mark!.timeS![0]).toBeGreaterThan(second.startS - 0.01);
  expect(mark!.timeS![0]).toBeLessThan(second.startS + second.contactS);
  expect(mark!.words).toMatch(/^second impact, \d+ ms after the first$/);
});

test('clipped samples are marked in their channel, at the height where they are cut', () => {
  const cutAt = 2;
  const marks = of(
    markFirst({
      fullScaleMPerS2: cutAt,
      shares: [1, 0.1],
      spoil: (samples) => samples.map((value) => Math.max(-cutAt, Math.min(cutAt, value))),
    }),
    'clipping',
  );
  expect(marks.length).toBeGreaterThan(0);
  for (const { channel, level, timeS } of marks) {
    expect(channel).toBe(0);
    expect(level).toEqual({ mPerS2: cutAt, bothSides: true });
    expect(timeS![0]).toBeGreaterThanOrEqual(HAND.startS - 0.01);
    expect(timeS![1]).toBeGreaterThan(timeS![0]);
  }
});

test('hum is marked at the mains and its multiples', () => {
  const hum: Spoil = (samples) =>
    samples.map((value, i) => value + 0.4 * Math.sin((2 * Math.PI * 60 * i) / RATE_HZ));
  const marks = of(markFirst({ spoil: hum }), 'mains-hum');
  expect(marks.map(({ frequencyHz }) => (frequencyHz![0] + frequencyHz![1]) / 2)).toEqual([60, 120, 180]);
});

test('taps are marked where they were added', () => {
  const taps = [1.8, 2.3, 2.6];
  const spoil: Spoil = (samples) =>
    samples.map((value, i) => {
      const since = taps.map((atS) => i / RATE_HZ - atS).filter((s) => s >= 0 && s < 0.02);
      return since.reduce(
        (sum, s) => sum + 6 * Math.exp(-s / 0.004) * Math.cos(2 * Math.PI * 500 * s),
        value,
      );
    });
  const marks = of(markFirst({ spoil, shares: [1] }), 'rattle').sort((a, b) => a.timeS![0] - b.timeS![0]);
  expect(marks.length).toBe(taps.length);
  // the low pass that parts taps from the swing rings for some samples before a tap
  for (const [i, { timeS }] of marks.entries()) expect(Math.abs(timeS![0] - taps[i]!)).toBeLessThan(0.02);
});

test('an end that comes too early, a still plane, a shifted level and a high corner are marked where they lie', () => {
  const [cut] = of(markFirst({ durationS: 1.7 }), 'cut-short');
  expect(cut!.timeS![0]).toBeCloseTo(1.7, 1);
  const [still] = of(markFirst({ shares: [1, 0.1] }), 'weak-plane');
  expect([still!.channel, still!.words]).toEqual([1, 'the plane at 90° hardly moves']);
  const [shifted] = of(markFirst({ shares: [1], spoil: (s) => s.map((value) => value + 2) }), 'offset');
  expect(shifted!.level!.mPerS2).toBeCloseTo(2, 1);
  const [corner] = of(markFirst({ cornerHz: 3 }), 'corner');
  expect(corner!.frequencyHz).toEqual([0, 3]);
});

test('a blow that drowns is marked over the stretch at rest, at the level of its noise', () => {
  const marks = of(markFirst({ blows: [{ ...HAND, force: 0.5 }] }), 'noise');
  expect(marks.length).toBe(2);
  for (const { timeS, level } of marks) {
    expect(timeS![1] - timeS![0]).toBeGreaterThan(0.2);
    expect(level!.mPerS2).toBeCloseTo(1e-3, 3);
  }
});
