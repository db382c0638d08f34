import type { Blow, Lesson, LessonBlow, LessonId } from '../classroomTypes.ts';

/** A lesson while it is being changed. Pure changes: each returns a new one. */
export type LessonDraft = {
  /** null: it was never kept. */
  lessonId: Exclude<LessonId, string> | null;
  lesson: Lesson;
};

export const NEW_LESSON: Lesson = {
  format: 'stemroot-lesson',
  version: 1,
  title: 'New lesson',
  maker: '',
  notes: '',
  blows: [],
};

export function addBlow(lesson: Lesson, blow: Blow): Lesson {
  const entry: LessonBlow = {
    recordingSha256: blow.recordingSha256,
    recordingFile: blow.recordingFile,
    poleId: blow.poleId,
    visitDate: blow.visitDate,
    startS: blow.startS,
    title: '',
    note: '',
    use: 'show and ask',
    statedFaults: null,
  };
  return { ...lesson, blows: [...lesson.blows, entry] };
}

export function changeBlow(lesson: Lesson, index: number, change: Partial<LessonBlow>): Lesson {
  return { ...lesson, blows: lesson.blows.map((blow, i) => (i === index ? { ...blow, ...change } : blow)) };
}

export function removeBlow(lesson: Lesson, index: number): Lesson {
  return { ...lesson, blows: lesson.blows.filter((_, i) => i !== index) };
}

/** Moves a blow up (-1) or down (1); at the ends it stays. */
export function moveBlow(lesson: Lesson, index: number, by: -1 | 1): Lesson {
  const to = index + by;
  if (to < 0 || to >= lesson.blows.length) return lesson;
  const blows = [...lesson.blows];
  [blows[index], blows[to]] = [blows[to]!, blows[index]!];
  return { ...lesson, blows };
}

export function hasBlow(lesson: Lesson, { recordingSha256, startS }: Blow): boolean {
  return lesson.blows.some((entry) => entry.recordingSha256 === recordingSha256 && entry.startS === startS);
}
