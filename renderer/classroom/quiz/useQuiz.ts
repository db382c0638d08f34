import { useEffect } from 'react';
import { create } from 'zustand';
import { recallChoices, useKept } from '../../state/index.ts';
import type { FaultId, GradedQuiz, LessonId } from '../classroomTypes.ts';

/** Name under which a quiz under way outlives the window. */
const KEPT_AS = 'classroom/quiz';

/** A quiz that somebody is taking. */
export type Sitting = {
  lessonId: LessonId;
  /** Fixes the order of the blows. */
  quiz: number;
  trainee: string;
  turn: number;
  /** By turn; null: not answered yet; empty: nothing is wrong. */
  answers: readonly (readonly FaultId[] | null)[];
};

type QuizChoices = {
  sitting: Sitting | null;
  graded: GradedQuiz | null;
  recalled: boolean;
  set(change: Partial<Pick<QuizChoices, 'sitting' | 'graded' | 'recalled'>>): void;
};

const useQuizStore = create<QuizChoices>()((set) => ({
  sitting: null,
  graded: null,
  recalled: false,
  set: (change) => set(change),
}));

/** The quiz under way, kept over other places, reloads and crashes, and the one graded last in this window. */
export function useQuiz() {
  const { sitting, graded, recalled, set } = useQuizStore();
  useEffect(() => {
    if (recalled) return;
    void recallChoices<{ sitting: Sitting | null }>(KEPT_AS).then((kept) => {
      const { sitting: begun } = useQuizStore.getState();
      set({ recalled: true, sitting: begun ?? kept?.sitting ?? null });
    });
  }, [recalled, set]);
  useKept(KEPT_AS, recalled ? { sitting } : null);
  return {
    sitting,
    graded,
    begin: (lessonId: LessonId, trainee: string, turns: number) =>
      set({
        graded: null,
        sitting: {
          lessonId,
          quiz: crypto.getRandomValues(new Uint32Array(1))[0]!,
          trainee,
          turn: 0,
          answers: Array.from({ length: turns }, () => null),
        },
      }),
    answer: (faults: readonly FaultId[] | null) =>
      sitting &&
      set({
        sitting: { ...sitting, answers: sitting.answers.map((a, i) => (i === sitting.turn ? faults : a)) },
      }),
    turnTo: (turn: number) => sitting && set({ sitting: { ...sitting, turn } }),
    giveUp: () => set({ sitting: null }),
    show: (result: GradedQuiz) => set({ sitting: null, graded: result }),
    leave: () => set({ graded: null }),
  };
}
