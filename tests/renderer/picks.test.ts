import { expect, test } from 'vitest';
import { contract } from '../../core/workspace/contract.ts';
import { bestStrike } from '../../renderer/bench/bestStrike.ts';
import { clustersOfPlane, suggestNumber } from '../../renderer/bench/clusterPicks.ts';
import { doubtPick } from '../../renderer/bench/doubtPick.ts';
import {
  CABLE_FACTOR_LIMITS,
  FIXITY_LIMITS,
  FREQUENCY_LIMITS,
  MASS_HEIGHT_LIMITS,
  MASS_LIMITS,
  MODULUS_LIMITS,
  SETTING_DEPTH_LIMITS,
} from '../../renderer/bench/numberLimits.ts';
import { isFoundElsewhere, pickRows, planeOfChannel } from '../../renderer/bench/pickRows.ts';
import { snapToPeak } from '../../renderer/bench/snapToPeak.ts';
import { readNumber } from '../../renderer/parts/readNumber.ts';
import { pixelOf, valueAt } from '../../renderer/plots/frame.ts';
import type { Assessment, Stabilisation } from '../../renderer/types.ts';

const planes = [
  { plane: 0, azimuthDeg: 10 },
  { plane: 1, azimuthDeg: 100 },
];
const mode: Assessment['modes'][number] = {
  plane: 0,
  azimuthDeg: 10,
  number: 2,
  frequencyHz: { value: 10, sd: 0.1 },
  dampingRatio: { value: 0.02, sd: 0.001 },
  source: 'proposed',
  status: 'candidate',
  predictedHz: 10.2,
  residual: -2,
  oddChance: 0.1,
  strikes: 2,
  reason: '',
};
const assessment = { modes: [mode], findings: [], assignments: [] } as unknown as Assessment;

test('a decision stands before what the program proposes', () => {
  const find = (decisions: Parameters<typeof pickRows>[2]) =>
    pickRows(planes, assessment, decisions, true).find((row) => row.plane === 0 && row.number === 2)!;
  expect(find([])).toMatchObject({ state: 'proposed', frequencyHz: 10, sdHz: 0.1, residual: -2 });
  expect(find([{ plane: 0, number: 2, frequencyHz: 11 }])).toMatchObject({
    state: 'confirmed',
    frequencyHz: 11,
  });
  expect(find([{ plane: 0, number: 2, frequencyHz: null }])).toMatchObject({
    state: 'rejected',
    frequencyHz: null,
    sdHz: null,
  });
});

test('a pick that was used elsewhere than it was set is told, once the answer to it is there', () => {
  const findAt = (frequencyHz: number, isAnswer: boolean) =>
    pickRows(planes, assessment, [{ plane: 0, number: 2, frequencyHz }], isAnswer).find(
      (row) => row.plane === 0 && row.number === 2,
    )!;
  expect(findAt(11, false)).toMatchObject({ frequencyHz: 11, usedHz: null });
  expect(isFoundElsewhere(findAt(11, false))).toBe(false);
  expect(findAt(11, true)).toMatchObject({ frequencyHz: 11, usedHz: 10 });
  expect(isFoundElsewhere(findAt(11, true))).toBe(true);
  expect(isFoundElsewhere(findAt(10.04, true))).toBe(false);
  expect(isFoundElsewhere(pickRows(planes, assessment, [], true)[1]!)).toBe(false);
});

test('a pick is doubted by what the findings say of it, and a mode without one says why', () => {
  const doubted = {
    ...assessment,
    findings: [
      { id: 'pick-not-seen', text: 'No strike shows a mode there.', modes: [{ plane: 0, number: 2 }] },
      { id: 'own-picks', text: 'An analyst decided otherwise.' },
    ],
    missingModes: [{ plane: 1, number: 1, reason: 'Too faint.' }],
    assignments: [{ probability: 0.7, numbers: [{ plane: 1, frequencyHz: 20, number: 3 }] }],
  } as unknown as Assessment;
  const doubtOf = (plane: number, number: number, frequencyHz?: number) =>
    doubtPick(doubted, plane, number, frequencyHz === undefined ? undefined : { plane, number, frequencyHz });
  expect(doubtOf(0, 2)).toEqual({ words: 'no strike shows it', why: 'No strike shows a mode there.' });
  expect(doubtOf(1, 1)).toEqual({ words: 'not seen', why: 'Too faint.' });
  expect(doubtOf(1, 3)?.words).toBe('number not sure');
  expect(doubtOf(1, 2, 9)?.words).toBe('not counted');
  expect(doubtOf(1, 2)).toBeNull();
  // an answer to earlier decisions says nothing of this one
  const [row] = pickRows(planes, doubted, [{ plane: 0, number: 1, frequencyHz: 3 }], false);
  expect(row).toMatchObject({ doubt: null, isAwaited: true });
});

test('the strike to open on is the first with the best verdict', () => {
  const strikes = (...verdicts: ('use' | 'use with care' | 'repeat')[]) =>
    verdicts.map((verdict) => ({ verdict }));
  expect(bestStrike(strikes('repeat', 'use with care', 'use', 'use'))).toBe(2);
  expect(bestStrike(strikes('repeat', 'use with care'))).toBe(1);
  expect(bestStrike(strikes('repeat'))).toBe(0);
  expect(bestStrike([])).toBeNull();
});

test('a typed number is taken within its limits, with a comma too; else words in its unit say what can be typed', () => {
  expect(readNumber('3,2', FREQUENCY_LIMITS)).toEqual({ number: 3.2 });
  const wrong = { wrong: 'type a number from 0.1 to 1000 Hz' };
  for (const text of ['-3', 'abc', '', '0.09', '1001'])
    expect(readNumber(text, FREQUENCY_LIMITS)).toEqual(wrong);
  expect(readNumber('5', { least: -Infinity, most: 4, unit: 's' })).toEqual({
    wrong: 'type a number up to 4 s',
  });
  expect(readNumber('abc')).toEqual({ wrong: 'type a number' });
});

test('every limit of a typed number lies inside what the contract takes', () => {
  const { request } = contract['visit.whatIf'];
  for (const end of ['least', 'most'] as const) {
    const asked = request.safeParse({
      visitId: 1,
      decisions: [{ plane: 0, number: 1, frequencyHz: FREQUENCY_LIMITS[end] }],
      change: {
        modulusPa: MODULUS_LIMITS[end] * 1e9,
        fixity: FIXITY_LIMITS[end],
        cableFactor: CABLE_FACTOR_LIMITS[end],
        addedMass: { heightM: MASS_HEIGHT_LIMITS[end], massKg: MASS_LIMITS[end] },
        settingDepthM: SETTING_DEPTH_LIMITS[end],
      },
    });
    expect(asked.error?.issues ?? []).toEqual([]);
  }
});

test('there is a row for each plane and mode, before anything is assessed too', () => {
  const rows = pickRows(planes, null, [], true);
  expect(rows.map((row) => `${row.plane}/${row.number}`)).toEqual([
    ...['0/1', '0/2', '0/3', '0/4'],
    ...['1/1', '1/2', '1/3', '1/4'],
  ]);
  expect(rows.every((row) => row.state === 'none')).toBe(true);
});

test('a channel belongs to the plane nearest in azimuth, whichever way it points', () => {
  expect(planeOfChannel(planes, 185)?.plane).toBe(0);
  expect(planeOfChannel(planes, -85)?.plane).toBe(1);
  expect(planeOfChannel([], 0)).toBeUndefined();
});

test('a click near a peak takes its top; one with nothing in reach stays where it is', () => {
  const frequencies = [0, 1, 2, 3, 4, 5, 6];
  const values = [0, 1, 3, 7, 4, 1, 9];
  expect(snapToPeak(frequencies, values, 2.2, 0.5)).toBe(3);
  expect(snapToPeak(frequencies, values, 3.9, 0.5)).toBe(3);
  expect(snapToPeak(frequencies, values, 5.8, 0.5)).toBe(6);
  expect(snapToPeak(frequencies, values, 20, 0.5)).toBe(20);
  expect(snapToPeak([], [], 2, 1)).toBe(2);
});

test('a pole that holds is suggested as the pick that stands there, else as the lowest free number in order', () => {
  const rows = pickRows(planes, assessment, [{ plane: 0, number: 4, frequencyHz: 45 }], true);
  expect(suggestNumber(rows, 0, 10.02)).toBe(2);
  expect(suggestNumber(rows, 0, 2)).toBe(1);
  expect(suggestNumber(rows, 0, 25)).toBe(3);
  expect(suggestNumber(rows, 0, 70)).toBeNull();
  expect(suggestNumber(rows, 1, 70)).toBe(1);
});

test('a pole between the planes shows in both, lowest first', () => {
  const cluster = (frequencyHz: number, planeShares: number[]) => ({ frequencyHz, planeShares });
  const stabilisation = {
    clusters: [cluster(9, [0.95, 0.05]), cluster(2, [0.5, 0.5]), cluster(9.2, [0.02, 0.98])],
  } as unknown as Stabilisation;
  expect(clustersOfPlane(stabilisation, 0).map((c) => c.frequencyHz)).toEqual([2, 9]);
  expect(clustersOfPlane(stabilisation, 1).map((c) => c.frequencyHz)).toEqual([2, 9.2]);
});

test('pixels and values undo each other along a logarithmic axis, and decades are alike long', () => {
  const frame = { startPx: 0, endPx: 300, range: [0.1, 100] as const, logarithmic: true };
  expect(pixelOf(frame, 1)).toBeCloseTo(100, 9);
  expect(pixelOf(frame, 10)).toBeCloseTo(200, 9);
  expect(valueAt(frame, pixelOf(frame, 3.7))).toBeCloseTo(3.7, 12);
});

test('pixels and values along an axis undo each other, also where the axis runs upwards', () => {
  const frame = { startPx: 200, endPx: 20, range: [0, 60] as const };
  expect(pixelOf(frame, 0)).toBe(200);
  expect(pixelOf(frame, 60)).toBe(20);
  expect(valueAt(frame, pixelOf(frame, 17.3))).toBeCloseTo(17.3, 12);
});
