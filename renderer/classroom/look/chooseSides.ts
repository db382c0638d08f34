import type { Blow, OpenedLesson } from '../classroomTypes.ts';

/** What a lesson lays out first: a faulty blow, and beside it a good one by the same exciter where it has one. */
export function chooseSides({ lesson, blows }: OpenedLesson): { left: Blow | null; right: Blow | null } {
  const shown = blows.flatMap(({ blow }, i) => (blow && lesson.blows[i]!.use !== 'ask' ? [blow] : []));
  const right = shown.find(({ faults }) => faults.length > 0) ?? shown[1] ?? null;
  const good = shown.filter((blow) => blow.faults.length === 0 && blow !== right);
  const left = good.find(({ exciter }) => exciter === right?.exciter) ?? good[0] ?? null;
  return { left, right };
}
