import { expect, it } from 'vitest';
import { nameChange, tellDifferences } from '../../../core/workspace/calibration/tellDifferences.ts';

const none = { nowBelow: 0, polesNowBelow: 0, nowAbove: 0, polesNowAbove: 0 };
const EMPTY = {
  calibration: 'series@1',
  completedAt: '2026-05-03T10:00:00.000Z',
  askedBy: 'E. Engineer',
  recomputed: 0,
  poles: 0,
  left: { unchanged: 0, withoutStrength: 0, assessedMeanwhile: 0, failed: [] },
  crossings: { requirement: none, threshold: none },
  strengths: { lost: 0, polesLost: 0, lostBelow: 0, gained: 0, polesGained: 0 },
  ratios: [],
  rows: [],
  matching: 0,
};

it('says of nothing that it is no visit', () => {
  expect(tellDifferences(EMPTY)).toEqual([
    '0 new results under series@1: no visit. The results before are kept.',
    'Median against the requirement: no visit now below, no visit now above.',
    'Median against the threshold of the strength-loss rule: no visit now below, no visit now above.',
  ]);
});

it('tells visits from the poles that they were to', () => {
  const told = tellDifferences({
    ...EMPTY,
    recomputed: 3,
    poles: 2,
    crossings: { requirement: { ...none, nowBelow: 2, polesNowBelow: 1 }, threshold: none },
    strengths: { lost: 3, polesLost: 2, lostBelow: 1, gained: 1, polesGained: 1 },
    ratios: [0.88, 0.9, 0.96, 1, 1.02],
    left: { ...EMPTY.left, withoutStrength: 1, failed: [{ visitId: 4, message: 'no' }] },
  });
  expect(told).toEqual([
    '3 new results under series@1: 3 visits to 2 poles. The results before are kept.',
    'Capacity not told any more by this calibration: 3 visits to 2 poles, 1 of them with the median below the requirement before.',
    'Capacity told where none was: 1 visit to 1 pole.',
    'Median against the requirement: 2 visits to 1 pole now below, no visit now above.',
    'Median against the threshold of the strength-loss rule: no visit now below, no visit now above.',
    'Capacity changes by −4 % in the middle, −12 % to +2 % for nine visits in ten.',
    'Visits without a new result: 1 without a strength, 1 failed.',
  ]);
});

it('names what changes for a visit', () => {
  const side = {
    calibration: 'series@1',
    capacityNm: { value: 4e4, low: 3e4, high: 5e4, level: 0.9 },
    requirementNm: 5e4,
    chanceBelow: 0.9,
    thresholdNm: 3e4,
    chanceBelowThreshold: 0.1,
  };
  const none = { ...side, capacityNm: null };
  const name = (change: Partial<Parameters<typeof nameChange>[0]>) =>
    nameChange({
      visitId: 1,
      poleId: 'MC-1',
      date: '2026-05-03',
      before: side,
      after: side,
      capacityRatio: null,
      crossed: [],
      strength: null,
      reasons: [],
      ...change,
    });
  expect([
    name({}),
    name({ strength: 'lost', after: none }),
    name({ strength: 'gained', before: none }),
    name({
      crossed: ['requirement', 'threshold'],
      before: { ...side, capacityNm: { ...side.capacityNm, value: 6e4 } },
    }),
  ]).toEqual([
    'neither side',
    'capacity not told any more',
    'capacity told where none was',
    'requirement and threshold: median now below',
  ]);
});
