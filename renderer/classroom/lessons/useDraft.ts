import { useEffect } from 'react';
import { create } from 'zustand';
import { recallChoices, useKept } from '../../state/index.ts';
import type { Lesson } from '../classroomTypes.ts';
import type { LessonDraft } from './lessonDraft.ts';

/** Name under which a lesson that is being changed outlives the window. */
const KEPT_AS = 'classroom/lesson';

type DraftChoices = {
  /** null: no lesson is being changed. */
  draft: LessonDraft | null;
  /** Whether a window that was closed in the midst of it was asked about. */
  recalled: boolean;
  set(change: Partial<Pick<DraftChoices, 'draft' | 'recalled'>>): void;
};

const useDraftStore = create<DraftChoices>()((set) => ({
  draft: null,
  recalled: false,
  set: (change) => set(change),
}));

/** The lesson that is being changed: it stays over other places, reloads and crashes until it is kept or given up. */
export function useDraft() {
  const { draft, recalled, set } = useDraftStore();
  useEffect(() => {
    if (recalled) return;
    void recallChoices<{ draft: LessonDraft | null }>(KEPT_AS).then((kept) => {
      // what was begun while the answer was on its way is newer
      const { draft: begun } = useDraftStore.getState();
      set({ recalled: true, draft: begun ?? kept?.draft ?? null });
    });
  }, [recalled, set]);
  useKept(KEPT_AS, recalled ? { draft } : null);
  return {
    draft,
    begin: (next: LessonDraft) => set({ draft: next }),
    change: (lesson: Lesson) => draft && set({ draft: { ...draft, lesson } }),
    end: () => set({ draft: null }),
  };
}
