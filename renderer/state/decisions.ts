import type { Decision, PickDecision, PriorDecision, Refusal, StrikeDecision } from '../types.ts';

/** Changes to a list of decisions. Pure: each returns a new list, in an order that does not depend on how it came about. */

function isPick(decision: Decision): decision is PickDecision {
  return !('kind' in decision);
}

function picksOf(decisions: readonly Decision[]): PickDecision[] {
  return decisions.filter(isPick);
}

export function refusalsOf(decisions: readonly Decision[]): Refusal[] {
  return decisions.filter((d): d is Refusal => 'kind' in d && d.kind === 'refusal');
}

export function decisionFor(
  decisions: readonly Decision[],
  plane: number,
  number: number,
): PickDecision | undefined {
  return picksOf(decisions).find((d) => d.plane === plane && d.number === number);
}

export function strikeDecisionFor(
  decisions: readonly Decision[],
  recording: string,
  strike: number,
): StrikeDecision | undefined {
  return decisions.find(
    (d): d is StrikeDecision =>
      'kind' in d && d.kind === 'strike' && d.recording === recording && d.strike === strike,
  );
}

/** What was decided on one prior, and why. */
export function priorDecisionFor<N extends PriorDecision['prior']['name']>(
  decisions: readonly Decision[],
  name: N,
): { prior: Extract<PriorDecision['prior'], { name: N }>; reason: string } | undefined {
  for (const decision of decisions) {
    if (!('kind' in decision) || decision.kind !== 'prior') continue;
    const { prior, reason } = decision;
    if (prior.name === name) return { prior: prior as Extract<PriorDecision['prior'], { name: N }>, reason };
  }
  return undefined;
}

/** What a decision is about: there is one decision for each subject. */
function subjectOf(decision: Decision): string {
  if (isPick(decision)) return `pick ${decision.plane} ${decision.number}`;
  switch (decision.kind) {
    case 'refusal':
      return `refusal ${decision.plane} ${decision.frequencyHz}`;
    case 'strike':
      return `strike ${decision.recording} ${decision.strike}`;
    case 'prior':
      return `prior ${decision.prior.name}`;
  }
}

const bySubject = (a: Decision, b: Decision) =>
  subjectOf(a).localeCompare(subjectOf(b), 'en', { numeric: true });

/** Adds a decision in place of the one on the same subject. */
export function decide(decisions: readonly Decision[], decision: Decision): Decision[] {
  return [...withdraw(decisions, decision), decision].sort(bySubject);
}

/** Takes back the decision on the same subject. */
export function withdraw(decisions: readonly Decision[], decision: Decision): Decision[] {
  const subject = subjectOf(decision);
  return decisions.filter((other) => subjectOf(other) !== subject);
}

/** Leaves one mode of one plane to the program again. */
export function release(decisions: readonly Decision[], plane: number, number: number): Decision[] {
  return withdraw(decisions, { plane, number, frequencyHz: null });
}

/** Two frequencies nearer than this, as a share, are one peak; the chain takes refusals so. */
const SAME_PEAK_SHARE = 0.015;

/** Refuses the peak of a pick: a frequency set there goes, and the number is free for another. */
export function refuse(
  decisions: readonly Decision[],
  plane: number,
  number: number,
  frequencyHz: number,
): Decision[] {
  return decide(release(decisions, plane, number), { kind: 'refusal', plane, frequencyHz });
}

/** A frequency set by hand where a peak was refused takes the refusal back. */
export function placePick(decisions: readonly Decision[], pick: PickDecision): Decision[] {
  const kept = decisions.filter(
    (d) =>
      !('kind' in d && d.kind === 'refusal') ||
      d.plane !== pick.plane ||
      pick.frequencyHz === null ||
      Math.abs(d.frequencyHz / pick.frequencyHz - 1) > SAME_PEAK_SHARE,
  );
  return decide(kept, pick);
}

/**
 * Gives a pick another mode number. A pick that already had that number takes the old one; else the old number is left to the
 * program, which finds another peak for it or none.
 * @param frequencyHz - of the pick that moves
 * @param displacedHz - of the pick that has the new number now; null where there is none
 */
export function renumber(
  decisions: readonly Decision[],
  plane: number,
  from: number,
  to: number,
  frequencyHz: number,
  displacedHz: number | null,
): Decision[] {
  const moved = decide(decisions, { plane, number: to, frequencyHz });
  return displacedHz === null
    ? release(moved, plane, from)
    : decide(moved, { plane, number: from, frequencyHz: displacedHz });
}

export function sameDecisions(a: readonly Decision[], b: readonly Decision[]): boolean {
  const write = (decisions: readonly Decision[]) =>
    JSON.stringify([...decisions].sort(bySubject), (_key, value) => sortFields(value));
  return a.length === b.length && write(a) === write(b);
}

/** Fields by name: a decision that comes back from the store may have them in another order. */
function sortFields(value: unknown): unknown {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => a.localeCompare(b, 'en')));
}
