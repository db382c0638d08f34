import { expect, test } from 'vitest';
import { decide, release, renumber, sameDecisions } from '../../renderer/state/decisions.ts';

const first = { plane: 0, number: 1, frequencyHz: 2 };
const second = { plane: 0, number: 2, frequencyHz: 10 };
const other = { plane: 1, number: 1, frequencyHz: null };

test('a decision replaces an earlier one on the same mode, and the order is by plane and number', () => {
  expect(decide([other, second], first)).toEqual([first, second, other]);
  expect(decide([first], { ...first, frequencyHz: null })).toEqual([{ ...first, frequencyHz: null }]);
});

test('a released mode is left to the program; nothing else changes', () => {
  expect(release([first, second, other], 0, 2)).toEqual([first, other]);
  expect(release([first], 1, 1)).toEqual([first]);
});

test('a renumbered pick changes places with the one that has its new number', () => {
  expect(renumber([], 0, 2, 3, 10, 27)).toEqual([
    { plane: 0, number: 2, frequencyHz: 27 },
    { plane: 0, number: 3, frequencyHz: 10 },
  ]);
});

test('a pick renumbered to a free number leaves its old number empty', () => {
  expect(renumber([second], 0, 2, 3, 10, null)).toEqual([
    { plane: 0, number: 2, frequencyHz: null },
    { plane: 0, number: 3, frequencyHz: 10 },
  ]);
});

test('decisions are the same whatever their order, and differ by any frequency', () => {
  expect(sameDecisions([first, other], [other, first])).toBe(true);
  expect(sameDecisions([first], [{ ...first, frequencyHz: 2.001 }])).toBe(false);
  expect(sameDecisions([first], [first, other])).toBe(false);
  expect(sameDecisions([], [])).toBe(true);
});
