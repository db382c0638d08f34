import { useEffect, useState } from 'react';
import { callHost } from '../../client.ts';
import type { CallAnswer, CallRequest, Failure } from '../../types.ts';
import type { Blow } from '../classroomTypes.ts';

/** A list that is longer is no help; narrower words are. */
const MOST_BLOWS = 300;
/** Words change at every key; one search at its end is enough. */
const PAUSE_MS = 250;

export type FoundBlows = {
  blows: readonly Blow[];
  looked: number;
  left: number;
  searching: boolean;
  failure: Failure | null;
};

type Query = Pick<CallRequest<'classroom.findBlows'>, 'words' | 'fault'>;

const NOTHING: FoundBlows = { blows: [], looked: 0, left: 0, searching: true, failure: null };

/**
 * Looks through the workspace for blows, some visits at a time, until all are seen, enough are found, or it is stopped.
 * @param query - null looks for nothing
 * @param revision - a change looks again
 */
export function useFoundBlows(query: Query | null, revision: number): FoundBlows & { stop(): void } {
  const [found, setFound] = useState<FoundBlows>(NOTHING);
  const [stopped, setStopped] = useState(false);
  const key = JSON.stringify(query);

  // biome-ignore lint/correctness/useExhaustiveDependencies: the key stands for the query; a new revision looks again.
  useEffect(() => {
    setStopped(false);
  }, [key, revision]);

  // biome-ignore lint/correctness/useExhaustiveDependencies: the key stands for the query; a new revision looks again.
  useEffect(() => {
    if (query === null || stopped) {
      setFound((last) => ({ ...last, searching: false }));
      return;
    }
    let over = false;
    const search = async () => {
      setFound(NOTHING);
      const blows: Blow[] = [];
      let looked = 0;
      let after: number | null = 0;
      while (after !== null && !over) {
        const answer: CallAnswer<'classroom.findBlows'> = await callHost('classroom.findBlows', {
          ...query,
          afterVisitId: after,
        });
        if (over) return;
        if (!answer.ok) {
          const { code, message, hint } = answer;
          setFound({ ...NOTHING, searching: false, failure: { code, message, hint } });
          return;
        }
        blows.push(...answer.value.blows);
        looked += answer.value.looked;
        after = blows.length < MOST_BLOWS ? answer.value.nextAfter : null;
        setFound({
          blows: [...blows],
          looked,
          left: answer.value.left,
          searching: after !== null,
          failure: null,
        });
      }
    };
    const timer = setTimeout(() => void search(), PAUSE_MS);
    return () => {
      over = true;
      clearTimeout(timer);
    };
  }, [key, revision, stopped]);

  return { ...found, stop: () => setStopped(true) };
}
