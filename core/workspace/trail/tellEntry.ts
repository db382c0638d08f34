import type { TrailAction, TrailRow } from './composeEntry.ts';

const WORDS: Readonly<Record<TrailAction, (subject: string) => string>> = {
  make: () => 'The workspace was made',
  migrate: () => 'The workspace was brought to a newer form',
  import: (subject) => `${startLarge(subject)} was brought in`,
  assess: (subject) => `A result of ${poleOf(subject)} was stored`,
  rule: (subject) =>
    subject.startsWith('ruling')
      ? `${startLarge(subject)} was marked`
      : `A ruling on ${poleOf(subject)} was made`,
  publish: (subject) => `${startLarge(subject)} was published`,
  use: (subject) => `${startLarge(subject)} was chosen`,
  recompute: (subject) => `${startLarge(subject)} were stored anew`,
  restore: () => 'The workspace was restored from a backup',
  move: () => 'The workspace was moved here',
  set: (subject) => `${startLarge(subject)} was set`,
  grade: (subject) => `${startLarge(subject)} was graded`,
};

/** One entry of the trail as a sentence without who and when. */
export function tellEntry({ action, subject }: Pick<TrailRow, 'action' | 'subject'>): string {
  // a newer program may do what this one has no words for
  return WORDS[action as TrailAction]?.(subject) ?? `${startLarge(subject)} was changed`;
}

function poleOf(subject: string): string {
  return /pole (.+)$/.exec(subject)?.[1] ?? subject;
}

function startLarge(subject: string): string {
  return subject.charAt(0).toUpperCase() + subject.slice(1);
}
