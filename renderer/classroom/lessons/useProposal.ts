import { useRef, useState } from 'react';
import { callHost } from '../../client.ts';
import type { CallAnswer, Failure } from '../../types.ts';
import type { Blow, Lesson } from '../classroomTypes.ts';

/** More blows than this add nothing to a lesson that takes the first good one of each kind. */
const MOST_BLOWS = 3000;

type Progress = { looked: number; of: number };

/** Proposes a lesson out of the whole workspace; tells how far it is, and can be stopped. */
export function useProposal(onLesson: (lesson: Lesson) => void) {
  const [progress, setProgress] = useState<Progress | null>(null);
  const [failure, setFailure] = useState<Failure | null>(null);
  const stoppedRef = useRef(false);

  async function propose(): Promise<void> {
    stoppedRef.current = false;
    setFailure(null);
    const blows: Blow[] = [];
    let after: number | null = 0;
    let looked = 0;
    while (after !== null && !stoppedRef.current) {
      const answer: CallAnswer<'classroom.findBlows'> = await callHost('classroom.findBlows', {
        afterVisitId: after,
        visits: 10,
      });
      if (!answer.ok) return fail(answer);
      blows.push(...answer.value.blows);
      looked += answer.value.looked;
      after = blows.length < MOST_BLOWS ? answer.value.nextAfter : null;
      setProgress({ looked, of: looked + answer.value.left });
    }
    setProgress(null);
    if (stoppedRef.current) return;
    const answer = await callHost('classroom.proposeLesson', { blows });
    if (answer.ok) onLesson(answer.value.lesson);
    else fail(answer);
  }
  function fail({ code, message, hint }: Failure): void {
    setProgress(null);
    setFailure({ code, message, hint });
  }
  return {
    progress,
    failure,
    propose: () => void propose(),
    stop: () => {
      stoppedRef.current = true;
    },
  };
}
