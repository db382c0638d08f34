import { describe, expect, test } from 'vitest';
import { identifyModes, type PlausibleBand, proposeModes } from '../../core/modal/index.ts';
import { createNormal } from './makeDecay.ts';
import { makePlane, makeVisit } from './makeVisit.ts';

const BANDS: PlausibleBand[] = [
  { number: 1, lowHz: 0.7, highHz: 4.5 },
  { number: 2, lowHz: 5, highHz: 20 },
  { number: 3, lowHz: 14, highHz: 48 },
];
const PLAUSIBLE = [BANDS, BANDS];
const ASIDE = { strikes: 4, cornerHz: 0.2 };
const FOUR = ['hammer', 'hammer', 'hand', 'hand'] as const;

function propose(plan: Omit<Parameters<typeof makeVisit>[0], 'exciters'>, plausible = PLAUSIBLE) {
  const { candidates } = identifyModes(makeVisit({ exciters: FOUR, ...plan }));
  return proposeModes(candidates, plausible, ASIDE);
}

describe('proposeModes', () => {
  test('takes what the strikes show, ranks it, and misses nothing', () => {
    const { modes, missing } = propose({ planes: [makePlane(1), makePlane(1.02)], seed: 51 });
    const taken = modes.filter(({ accepted }) => accepted);
    expect(taken).toHaveLength(6);
    expect(taken.map(({ rank }) => rank).sort()).toEqual([1, 2, 3, 4, 5, 6]);
    expect(taken[0]!.numbers).toEqual([1]);
    expect(taken.find(({ rank }) => rank === 1)!.strikes).toBe(4);
    expect(missing).toEqual([]);
  });

  test('refuses what lies where no mode of the pole can be, and says so', () => {
    const narrow = PLAUSIBLE.map((bands) =>
      bands.map((band) => (band.number === 2 ? { ...band, lowHz: 12 } : band)),
    );
    const { modes, missing } = propose({ planes: [makePlane(1), makePlane(1.02)], seed: 51 }, narrow);
    const refused = modes.filter(({ refusal }) => refusal === 'reach');
    expect(refused.map(({ frequencyHz }) => Math.round(frequencyHz.value))).toEqual([10, 11]);
    expect(refused[0]!.reason).toMatch(/no mode of a pole of this size/);
    expect(missing.map(({ number }) => number)).toEqual([2, 2]);
    expect(missing[0]!.reason).toMatch(/Nothing stands out between 12.0 and 20.0 Hz/);
  });

  test('declares a first mode missing where nothing lights it, and names the corner that weakens it', () => {
    const planes = [makePlane(1).slice(1), makePlane(1.02).slice(1)];
    const { candidates } = identifyModes(makeVisit({ planes, exciters: FOUR, seed: 52 }));
    const { missing } = proposeModes(candidates, PLAUSIBLE, { strikes: 4, cornerHz: 3 });
    expect(missing.map(({ plane, number }) => [plane, number])).toEqual([
      [0, 1],
      [1, 1],
    ]);
    for (const { reason } of missing) expect(reason).toMatch(/corner of sensor or recorder \(3 Hz\)/);
  });

  test('takes a first mode that one strike shows in both planes, with a wider deviation', () => {
    const faint = [makePlane(1), makePlane(1.02)].map(([first, ...others]) => [
      { ...first!, hand: 0.0014 },
      ...others,
    ]);
    let seenOnce = 0;
    for (let seed = 60; seed < 72; seed++) {
      const { candidates } = identifyModes(makeVisit({ planes: faint, exciters: FOUR, seed }));
      for (const mode of proposeModes(candidates, PLAUSIBLE, ASIDE).modes) {
        if (!/^Seen once/.test(mode.reason)) continue;
        seenOnce++;
        const own = candidates.find(
          (c) => c.plane === mode.plane && c.frequencyHz.value === mode.frequencyHz.value,
        )!;
        expect(own.refusal).toBe('once');
        expect(mode.frequencyHz.sd).toBeCloseTo(2 * own.frequencyHz.sd, 10);
        const truth = faint[mode.plane]![0]!.frequencyHz;
        expect(Math.abs(mode.frequencyHz.value - truth)).toBeLessThan(3 * mode.frequencyHz.sd);
      }
    }
    expect(seenOnce).toBeGreaterThan(0);
  });

  test('invents no first mode out of wind', () => {
    const keep = Math.exp((-2 * Math.PI * 0.6) / 1000);
    for (let seed = 80; seed < 92; seed++) {
      const sources = new Map<string, { level: number; normal: () => number }>();
      const { modes } = propose({
        planes: [makePlane(1).slice(1), makePlane(1.02).slice(1)],
        seed,
        disturb: (strike, channel) => {
          const key = `${strike} ${channel}`;
          const source = sources.get(key) ?? {
            level: 0,
            normal: createNormal(seed * 97 + 8 * strike + channel),
          };
          sources.set(key, source);
          source.level = keep * source.level + 0.01 * Math.sqrt(1 - keep * keep) * source.normal();
          return source.level;
        },
      });
      expect(modes.filter(({ accepted, frequencyHz }) => accepted && frequencyHz.value < 5)).toEqual([]);
    }
  });

  test('passes candidates on as they are where nothing is known of the pole', () => {
    const { candidates } = identifyModes(
      makeVisit({ planes: [makePlane(1), makePlane(1.02)], exciters: FOUR, seed: 51 }),
    );
    const { modes, missing } = proposeModes(candidates, [], ASIDE);
    expect(modes.map(({ rank: _rank, numbers: _numbers, ...candidate }) => candidate)).toEqual(candidates);
    expect(missing).toEqual([]);
  });
});
