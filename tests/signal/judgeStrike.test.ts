import { describe, expect, test } from 'vitest';
import type { CalibratedRecording } from '../../core/recording/index.ts';
import {
  CHECK_LIMITS,
  type Check,
  type CheckId,
  findStrikes,
  judgeStrike,
  judgeVisit,
  type StrikeJudgement,
} from '../../core/signal/index.ts';
import { createNoise, POLE_MODES, ringPole, type TestBlow, type TestMode } from './makeStrike.ts';

interface Scene {
  readonly exciter?: 'hammer' | 'hand' | 'unknown';
  readonly modes?: readonly TestMode[];
  readonly blows?: readonly TestBlow[];
  readonly sampleRateHz?: number;
  readonly durationS?: number;
  readonly noise?: number;
  readonly shares?: readonly number[];
  readonly cornerHz?: number | null;
  readonly fullScaleMPerS2?: number | null;
  /** What the sensor adds or does to the samples of each channel. */
  readonly spoil?: (samples: Float64Array, sampleRateHz: number) => Float64Array;
}

const HAND: TestBlow = { startS: 1, contactS: 0.03, force: 500 };
const HAMMER: TestBlow = { startS: 1, contactS: 0.005, force: 2000 };

function record(scene: Scene): CalibratedRecording {
  const { exciter = 'hand', modes = POLE_MODES, sampleRateHz = 2000, durationS = 11, noise = 1e-3 } = scene;
  const blows = scene.blows ?? [exciter === 'hammer' ? HAMMER : HAND];
  const clean = ringPole(modes, blows, sampleRateHz, durationS);
  const channels = (scene.shares ?? [1, 0.8]).map((share, index) => {
    const hiss = createNoise(clean.length, index + 11);
    const samples = clean.map((value, i) => share * value + noise * hiss[i]!);
    return {
      index,
      samplesMPerS2: scene.spoil?.(samples, sampleRateHz) ?? samples,
      fullScaleMPerS2: scene.fullScaleMPerS2 === undefined ? 98.1 : scene.fullScaleMPerS2,
      azimuthDeg: 90 * index,
      heightM: 2,
      cornerHz: scene.cornerHz === undefined ? 0.2 : scene.cornerHz,
    };
  });
  return { fileName: 'made.wav', sampleRateHz, frames: clean.length, exciter, channels, warnings: [] };
}

function judgeFirst(scene: Scene): StrikeJudgement {
  const recording = record(scene);
  const strikes = findStrikes(
    recording.channels.map((channel) => channel.samplesMPerS2),
    recording.sampleRateHz,
  );
  return judgeStrike(recording, strikes[0]!);
}

function findCheck(judgement: StrikeJudgement, id: CheckId): Check {
  return judgement.checks.find((check) => check.id === id)!;
}

function listFaults(judgement: StrikeJudgement): CheckId[] {
  return judgement.checks.filter((check) => check.verdict !== 'use').map((check) => check.id);
}

describe('a good strike', () => {
  test.each([1000, 2000, 4000, 48_000])('has no fault at %i Hz, by hand or hammer', (sampleRateHz) => {
    for (const exciter of ['hand', 'hammer'] as const) {
      const judgement = judgeFirst({ exciter, sampleRateHz });
      expect(listFaults(judgement)).toEqual([]);
      expect(judgement.verdict).toBe('use');
    }
  });

  test('every check answers once, with unit and limit, and with a sentence only where something is wrong', () => {
    const { checks } = judgeFirst({});
    expect(new Set(checks.map((check) => check.id)).size).toBe(10);
    for (const check of checks) {
      expect(check.unit).not.toBe('');
      expect(check.limit).toBe(CHECK_LIMITS[check.id].care);
      expect(check.text).toBe('');
      expect(check.advice).toBe('');
    }
  });

  test('poles from slow to fast pass', () => {
    for (const factor of [0.7, 1, 1.5, 2]) {
      const modes = POLE_MODES.map((mode) => ({ ...mode, frequencyHz: factor * mode.frequencyHz }));
      expect(listFaults(judgeFirst({ modes }))).toEqual([]);
    }
  });
});

describe('a fault is told with what to do', () => {
  test.each<[CheckId, string, Scene]>([
    [
      'clipping',
      'repeat',
      { spoil: (samples) => samples.map((v) => Math.max(-98.1, Math.min(98.1, 40 * v))) },
    ],
    [
      'clipping',
      'repeat',
      { fullScaleMPerS2: null, spoil: (s) => s.map((v) => Math.max(-2, Math.min(2, v))) },
    ],
    [
      'double-blow',
      'repeat',
      { exciter: 'hammer', blows: [HAMMER, { ...HAMMER, startS: 1.045, force: 1200 }] },
    ],
    [
      'double-blow',
      'repeat',
      { exciter: 'hammer', blows: [HAMMER, { ...HAMMER, startS: 1.6, force: 1000 }] },
    ],
    ['double-blow', 'repeat', { blows: [HAND, { ...HAND, startS: 1.18, force: 300 }] }],
    ['noise', 'use with care', { noise: 0.5 }],
    ['noise', 'repeat', { noise: 4 }],
    ['cut-short', 'use with care', { durationS: 2.5 }],
    ['cut-short', 'repeat', { durationS: 1.5 }],
    ['low-band', 'use with care', { exciter: 'hammer', modes: POLE_MODES.slice(1) }],
    ['weak-plane', 'use with care', { shares: [1, 0.1] }],
    [
      'mains-hum',
      'use with care',
      { spoil: (s, rate) => s.map((v, i) => v + 0.2 * Math.sin((2 * Math.PI * 50 * i) / rate)) },
    ],
    [
      'mains-hum',
      'use with care',
      { spoil: (s, rate) => s.map((v, i) => v + 0.2 * Math.sin((2 * Math.PI * 120 * i) / rate)) },
    ],
    ['rattle', 'use with care', { spoil: addTaps }],
    [
      'offset',
      'use with care',
      { spoil: (s, rate) => s.map((v, i) => v + (i > rate ? 0.5 * Math.exp(-(i / rate - 1) / 2) : 0)) },
    ],
    ['corner', 'use with care', { cornerHz: 5 }],
  ])('%s: %s', (id, verdict, scene) => {
    const judgement = judgeFirst(scene);
    const check = findCheck(judgement, id);
    expect(check.verdict).toBe(verdict);
    expect(check.text).toMatch(/^[A-Z].*\.$/);
    expect(check.advice).toMatch(/^[A-Z].*\.$/);
    expect(['use', 'use with care', 'repeat'].indexOf(judgement.verdict)).toBeGreaterThanOrEqual(
      ['use', 'use with care', 'repeat'].indexOf(verdict),
    );
  });

  test.each<[string, Scene, CheckId[]]>([
    ['a hammer that leaves mode 1 at rest', { exciter: 'hammer', modes: POLE_MODES.slice(1) }, ['low-band']],
    ['a blow along one axis', { shares: [1, 0.1] }, ['weak-plane']],
    ['a rattle', { spoil: addTaps }, ['rattle']],
    ['a second blow', { exciter: 'hammer', blows: [HAMMER, { ...HAMMER, startS: 1.3 }] }, ['double-blow']],
  ])('%s is blamed on nothing else', (_, scene, faults) => {
    expect(listFaults(judgeFirst(scene))).toEqual(faults);
  });

  test('the text of a double blow places the second impact', () => {
    const check = findCheck(
      judgeFirst({ exciter: 'hammer', blows: [HAMMER, { ...HAMMER, startS: 1.3 }] }),
      'double-blow',
    );
    const afterMs = Number(/came (\d+) ms/.exec(check.text)![1]);
    expect(Math.abs(afterMs - 300)).toBeLessThan(20);
  });

  test.each([0.01, 0.02])('noise of %f of the peak is no second impact', (share) => {
    for (const [exciter, peak] of [
      ['hammer', 43],
      ['hand', 10],
    ] as const) {
      const check = findCheck(judgeFirst({ exciter, noise: share * peak }), 'double-blow');
      expect(check.verdict).toBe('use');
    }
  });
});

describe('a mode beside a band is not taken for one within it', () => {
  test('no mode 1 under a mode 2 just above its band', () => {
    const modes = [{ frequencyHz: 5.2, dampingRatio: 0.01, gain: 0.01 }, POLE_MODES[2]!];
    expect(listFaults(judgeFirst({ exciter: 'hammer', modes }))).toEqual(['low-band']);
  });

  test.each([0.5, 0.8])(
    '%f time constants of a faint mode 1 are read beside a strong mode 2',
    (constants) => {
      const first = { frequencyHz: 1.6, dampingRatio: 0.015, gain: 0.004 };
      const modes = [first, { frequencyHz: 6.5, dampingRatio: 0.03, gain: 0.03 }];
      const ringsS = constants / (2 * Math.PI * first.frequencyHz * first.dampingRatio);
      const check = findCheck(judgeFirst({ modes, durationS: 1 + ringsS }), 'cut-short');
      expect(check.verdict).toBe('use with care');
      expect(Math.abs(check.value! - constants)).toBeLessThan(0.2 * constants);
    },
  );

  test('a blow twice as soft that lights the higher of two modes less is like the harder one', () => {
    const modes = [
      { frequencyHz: 1.6, dampingRatio: 0.02, gain: 0.004 },
      { frequencyHz: 17.6, dampingRatio: 0.01, gain: 0.01 },
      { frequencyHz: 31, dampingRatio: 0.01, gain: 0.02 },
    ];
    const soft = record({ modes, blows: [{ ...HAND, contactS: 0.05 }] });
    const [like] = judgeVisit([record({ modes, blows: [{ ...HAND, contactS: 0.025 }] }), soft]).repeatability;
    expect(like!.check.value).toBeGreaterThan(0.97);
  });
});

describe('what cannot be judged says so', () => {
  test('no full scale, no corner, one plane', () => {
    const judgement = judgeFirst({ fullScaleMPerS2: null, cornerHz: null, shares: [1] });
    for (const id of ['clipping', 'corner', 'weak-plane'] as const) {
      const check = findCheck(judgement, id);
      expect(check.value).toBeNull();
      expect(check.verdict).toBe('use');
      expect(check.text).not.toBe('');
    }
  });

  test('a recording that starts with the blow and ends ringing has no known noise, and is used with care', () => {
    const judgement = judgeFirst({ blows: [{ ...HAND, startS: 0 }], durationS: 4 });
    expect(judgement.strike.noise.source).toBe('none');
    expect(findCheck(judgement, 'noise')).toMatchObject({ verdict: 'use with care', value: null });
    expect(findCheck(judgement, 'low-band').value).toBeNull();
  });
});

describe('judgeVisit', () => {
  test('like strikes agree and a changed pole does not', () => {
    const changed = POLE_MODES.map((mode) => ({ ...mode, frequencyHz: 1.12 * mode.frequencyHz }));
    const same = judgeVisit([record({}), record({ blows: [{ ...HAND, force: 700 }] })]);
    expect(same.repeatability).toHaveLength(1);
    expect(same.repeatability[0]!.check.verdict).toBe('use');
    expect(same.repeatability[0]!.check.value).toBeGreaterThan(0.97);
    const other = judgeVisit([record({}), record({ modes: changed })]);
    expect(other.repeatability[0]!.check.verdict).toBe('use with care');
    expect(other.repeatability[0]!.check.text).toContain('made.wav at 1.00 s');
  });

  test('exciters are compared each with themselves, and a single strike with nothing', () => {
    const { recordings, repeatability } = judgeVisit([
      record({ exciter: 'hammer' }),
      record({ exciter: 'hand' }),
    ]);
    expect(recordings.map(({ strikes }) => strikes.length)).toEqual([1, 1]);
    expect(repeatability.map(({ exciter, check }) => [exciter, check.value])).toEqual([
      ['hammer', null],
      ['hand', null],
    ]);
  });

  test('strikes to be repeated are left out', () => {
    const clipped = record({
      spoil: (samples) => samples.map((v) => Math.max(-98.1, Math.min(98.1, 40 * v))),
    });
    expect(judgeVisit([record({}), clipped]).repeatability[0]!.check.value).toBeNull();
  });
});

/**
 * Taps of a loose strap: 30 a second for two seconds behind the blow, ringing at 450 Hz, as strong as the
 * motion.
 */
function addTaps(samples: Float64Array, sampleRateHz: number): Float64Array {
  const out = samples.slice();
  const places = createNoise(60, 5);
  for (let tap = 0; tap < 60; tap++) {
    const start = Math.round((1.05 + tap / 30 + 0.005 * places[tap]!) * sampleRateHz);
    for (let i = 0; i < 0.02 * sampleRateHz; i++) {
      const t = i / sampleRateHz;
      out[start + i] = out[start + i]! + 0.8 * Math.exp(-t / 0.004) * Math.cos(2 * Math.PI * 450 * t);
    }
  }
  return out;
}
