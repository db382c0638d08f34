import type { Kysely } from 'kysely';
import { z } from 'zod';
import { InputError } from '../../errors.ts';
import { type Weakness, weaknessesOf } from '../../strength/index.ts';
import type { Tables } from '../tables.ts';

/**
 * Holds up what is about to be published or put to use in spite of its weaknesses without a word why.
 * @param field - where the reason belongs, as people see it
 * @throws InputError `calibration.reason` with every weakness
 */
export function requireReason(
  label: string,
  weaknesses: readonly Weakness[],
  given: string,
  field: string,
): void {
  if (weaknesses.length === 0 || given.trim() !== '') return;
  throw new InputError(
    'calibration.reason',
    `${label} has ${weaknesses.length === 1 ? 'a weakness' : `${weaknesses.length} weaknesses`}, and no reason is given: ${weaknesses.map(({ text }) => text).join(' ')}`,
    `Say why all the same (${field}); it is kept in the trail. Or leave it.`,
  );
}

/** How the trail names the choice of a calibration. */
export function choiceOf(label: string): { action: 'use'; subject: string } {
  return { action: 'use', subject: `calibration ${label} for new assessments` };
}

const answeredSchema = z.object({ weaknesses: z.array(z.string()).min(1) });

/**
 * Holds up a recompute under a weak calibration of which nobody said here why it is used all the same: brought in from a file, or published
 * by a program that did not ask. A reason for a choice from before it was asked answers nothing.
 * @throws InputError `calibration.reason`
 */
export async function requireAnswered(db: Kysely<Tables>, calibrationId: number | null): Promise<void> {
  if (calibrationId === null) return;
  const row = await db
    .selectFrom('calibrations')
    .select(['document_json', 'origin'])
    .where('calibration_id', '=', calibrationId)
    .executeTakeFirst();
  // who asks for one that is not there is told so elsewhere
  if (!row) return;
  const document = JSON.parse(row.document_json);
  const weaknesses = weaknessesOf(document);
  if (weaknesses.length === 0 || (row.origin === 'published' && document.version > 1)) return;
  const label = `${document.name}@${document.number}`;
  const { action, subject } = choiceOf(label);
  const choices = await db
    .selectFrom('trail')
    .select('after_json')
    .where('action', '=', action)
    .where('subject', '=', subject)
    .execute();
  // the choice names the weaknesses that its reason answers
  if (choices.some(({ after_json }) => answeredSchema.safeParse(JSON.parse(after_json ?? 'null')).success))
    return;
  requireReason(label, weaknesses, '', 'use it for new results first');
}
