/** What an analyst decided, held against the proposal, by hand. */
import { expect, test } from 'vitest';
import { compareWithProposal } from '../core/compareWithProposal.ts';
import { sortDecisions } from '../core/decisions.ts';
import type { ModeCandidate } from '../core/modal/index.ts';

const candidate = { plane: 0, azimuthDeg: 0, frequencyHz: { value: 10, sd: 0.01 } } as ModeCandidate;
const set = { candidate: { ...candidate, rank: null }, fixedNumber: 2, setHz: 10 };
const decisions = sortDecisions([{ plane: 0, number: 2, frequencyHz: 10 }]);
const ownWords = (number: number | null) =>
  compareWithProposal(
    [{ candidate, number }],
    [set],
    [{ ...set, index: 0, number: 2 }],
    decisions,
  ).ownPicks.map(({ words }) => words);

test.each<[string, number | null, string[]]>([
  ['what was proposed is confirmed, and no decision', 2, []],
  ['another number is', 3, ['mode 2 of plane 1 set at 10.00 Hz, which was proposed as mode 3']],
  [
    'so is a number where none was sure: the result rests on it',
    null,
    ['mode 2 of plane 1 set at 10.00 Hz, whose number was not sure'],
  ],
])('%s', (_, number, words) => {
  expect(ownWords(number)).toEqual(words);
});
