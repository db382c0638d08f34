import { expect, test } from 'vitest';
import {
  decide,
  placePick,
  refuse,
  release,
  renumber,
  sameDecisions,
  withdraw,
} from '../../renderer/state/decisions.ts';

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

test('a pick renumbered to a free number leaves its old number to the program', () => {
  expect(renumber([second], 0, 2, 3, 10, null)).toEqual([{ plane: 0, number: 3, frequencyHz: 10 }]);
});

test('a refused peak takes its pick away and leaves the number free', () => {
  const refusal = { kind: 'refusal' as const, plane: 0, frequencyHz: 10 };
  expect(refuse([first, second], 0, 2, 10)).toEqual([first, refusal]);
  expect(placePick([first, refusal], { ...second, frequencyHz: 11 })).toEqual([
    first,
    { ...second, frequencyHz: 11 },
    refusal,
  ]);
});

test('a pick set by hand at a refused peak takes the refusal back; in another plane it stands', () => {
  const refused = refuse([], 0, 2, 10);
  expect(placePick(refused, { ...second, frequencyHz: 10.1 })).toEqual([{ ...second, frequencyHz: 10.1 }]);
  expect(placePick(refused, { ...second, plane: 1 })).toHaveLength(2);
});

test('one decision stands for each strike and each prior', () => {
  const strike = { kind: 'strike' as const, recording: 'a.wav', strike: 0, use: false, reason: 'a car' };
  const both = decide(decide([], strike), { ...strike, strike: 1 });
  expect(decide(both, { ...strike, use: true })).toEqual([
    { ...strike, use: true },
    { ...strike, strike: 1 },
  ]);
  expect(withdraw(both, strike)).toEqual([{ ...strike, strike: 1 }]);
});

test('decisions are the same whatever their order, and differ by any frequency', () => {
  expect(sameDecisions([first, other], [other, first])).toBe(true);
  expect(sameDecisions([first], [{ ...first, frequencyHz: 2.001 }])).toBe(false);
  expect(sameDecisions([first], [first, other])).toBe(false);
  expect(sameDecisions([], [])).toBe(true);
  expect(sameDecisions([first], [{ frequencyHz: 2, number: 1, plane: 0 }])).toBe(true);
});
