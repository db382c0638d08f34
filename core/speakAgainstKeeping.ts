import type { Assessment, AssessmentFailure } from './assessment.ts';
import { formatChance } from './formatNumbers.ts';

/** A reason not to keep a pole, in words that suit every pole, and the figure that is this pole's own. */
export type Objection = { readonly reason: string; readonly figure?: string };

/** Kind of the finding that recordings of a visit are those of a visit to another pole as well. */
export const RECORDINGS_OF_ANOTHER_POLE = 'recordings-of-another-pole';
/** Kind of the finding that a visit differs from earlier ones to its pole. */
export const CHANGED = 'changed-between-visits';

/** What findings say against keeping. */
const FOUND: readonly (readonly [id: string, reason: string])[] = [
  ['soft-root', 'the root is softer than its soil and depth explain, so excavate and bore'],
  [
    'girth-off-class',
    'the girth is not that of its class, and the capacity goes with its cube, so measure again',
  ],
  [
    'density-off-species',
    'the density is not that of its species, and the capacity goes with it, so weigh again',
  ],
  ['own-prior', 'what was measured or is usual was replaced by hand, and the result rests on that'],
  [RECORDINGS_OF_ANOTHER_POLE, 'its recordings are those of a visit to another pole as well'],
  [CHANGED, 'it differs from an earlier visit by more than measuring again explains'],
];

/** Every pole is asked about it that is to be kept. */
const UNINSPECTED = 'section-not-inspected';

/** More likely than not. */
const EVEN_CHANCE = 0.5;

/**
 * What a result says against keeping its pole in service; empty where it says nothing against it. It may still be
 * right to keep the pole: what was seen at the ground line counts more than any frequency.
 * @param result - null: the visit has none
 * @param compared - what is told of the visit beside the other visits of the workspace
 */
export function speakAgainstKeeping(
  result: Assessment | AssessmentFailure | null,
  compared: Assessment['findings'],
): Objection[] {
  if (result === null) return [{ reason: 'the visit was not assessed, so nothing is known of the strength' }];
  if (result.verdict === 'failed')
    return [{ reason: 'the visit could not be assessed, so nothing is known of the strength' }];
  if (!('findings' in result)) return [];
  const against: Objection[] = [];
  if (result.verdict === 'withheld') {
    against.push({ reason: 'the result is withheld, so the strength is unknown' });
  }
  against.push(...speakOfCapacity(result.requirement));
  const found = new Set([...result.findings, ...compared].map(({ id }) => id));
  for (const [id, reason] of FOUND) if (found.has(id)) against.push({ reason });
  return against;
}

/** Whether a finding of this kind is to be read before a pole is kept. */
export function isAgainstKeeping(id: string): boolean {
  return id === UNINSPECTED || FOUND.some(([found]) => found === id);
}

/** Of a capacity below the threshold in service, which is the graver, nothing more is said. */
function speakOfCapacity(requirement: Assessment['requirement']): Objection[] {
  const lines = [
    { name: 'threshold', chance: requirement?.chanceBelowThreshold ?? 0 },
    { name: 'requirement', chance: requirement?.chanceBelow ?? 0 },
  ];
  const short = lines.find(({ chance }) => chance > EVEN_CHANCE);
  return short
    ? [
        {
          reason: `the capacity is below the ${short.name} with a chance of half or more`,
          figure: formatChance(short.chance),
        },
      ]
    : [];
}

/** An objection of one pole, for instance `the capacity is below the threshold with a chance of half or more (62 %)`. */
export function tellObjection({ reason, figure }: Objection): string {
  return figure === undefined ? reason : `${reason} (${figure})`;
}
