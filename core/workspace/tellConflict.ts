import { StoreError } from '../errors.ts';
import { formatTime } from '../formatNumbers.ts';

/** How something stands now, in words, and who made it so. */
export type StandsNow = { words: string; by?: string | undefined; at?: string | undefined };

/**
 * The refusal of a change that somebody made looking at what is no longer so.
 * @param subject - what was changed meanwhile
 * @param seen - how it stood when the person looked, in words
 */
export function tellConflict(subject: string, seen: string, { words, by, at }: StandsNow): StoreError {
  const who = by === undefined ? '' : `, by ${by}`;
  const when = at === undefined ? '' : `, ${formatTime(at)}`;
  return new StoreError(
    'store.conflict',
    `${subject} was changed since you looked. Then: ${seen}. Now: ${words}${who}${when}.`,
    'Nothing was stored. Look at what is there now, then decide again.',
  );
}
