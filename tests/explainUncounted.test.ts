/** Why a peak does not count, by hand: what an analyst decided is named only where the peak has a number without that. */
import { expect, test } from 'vitest';
import { type Decision, sortDecisions } from '../core/decisions.ts';
import { explainUncounted } from '../core/explainUncounted.ts';
import type { ModeCandidate } from '../core/modal/index.ts';
import type { ProposedPick } from '../core/numberedPick.ts';

const peakAt = (hz: number, plane = 0) => ({ plane, frequencyHz: { value: hz, sd: 0.01 } }) as ModeCandidate;

/** An analyst's pick as the strikes show it. */
const setAt = (hz: number, number: number, plane = 0): ProposedPick => ({
  candidate: { ...peakAt(hz, plane), rank: null },
  fixedNumber: number,
  setHz: hz,
});

const NEUTRAL = 'no bending mode comes to lie here, or its number is not settled';
const missing: Decision = { plane: 0, number: 2, frequencyHz: null };

test.each<[string, number | null, ProposedPick[], Decision[], string]>([
  ['nothing decided', 2, [], [], NEUTRAL],
  ['refused', 2, [], [{ kind: 'refusal', plane: 0, frequencyHz: 10 }], 'an analyst refused it'],
  [
    'its number set elsewhere',
    2,
    [setAt(12, 2)],
    [],
    'an analyst set mode 2 of this plane at 12.00 Hz instead',
  ],
  ['however far away', 2, [setAt(30, 2)], [], 'an analyst set mode 2 of this plane at 30.00 Hz instead'],
  ['no number before, beside a pick', null, [setAt(10.4, 2)], [], NEUTRAL],
  ['its number set in the other plane', 2, [setAt(12, 2, 1)], [], NEUTRAL],
  ['another number, in order', 2, [setAt(3, 1)], [], NEUTRAL],
  [
    'another number, out of order',
    2,
    [setAt(12, 1)],
    [],
    'as mode 2 it does not go with mode 1 of this plane at 12.00 Hz, which an analyst set',
  ],
  ['its number declared missing', 2, [], [missing], 'an analyst declared mode 2 of this plane missing'],
  ['another number declared missing', 1, [], [missing], NEUTRAL],
])('%s', (_, number, picks, decisions, reason) => {
  expect(explainUncounted(peakAt(10), number, picks, sortDecisions(decisions))).toBe(reason);
});
