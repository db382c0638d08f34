import { FAULTS } from './faults.ts';
import type { Grading } from './gradeQuiz.ts';

/** A graded quiz as it is kept. */
type Score = {
  readonly trainee: string;
  readonly gradedAt: string;
  readonly lessonTitle: string;
  readonly lessonSha256: string;
  readonly grading: Grading;
};

const COLUMNS = [
  'trainee',
  'graded_at',
  'lesson',
  'lesson_sha256',
  'blows',
  'against',
  'fault',
  'there',
  'hits',
  'misses',
  'false_alarms',
  'rightly_left',
] as const;

/** Lays scores out for a spreadsheet: one row a quiz, key and fault, heads first. */
export function tabulateScores(scores: readonly Score[]): (string | number)[][] {
  return [
    [...COLUMNS],
    ...scores.flatMap((score) => [
      ...layOut(score, 'checks', score.grading.againstChecks),
      ...layOut(score, 'stated truth', score.grading.againstStated ?? []),
    ]),
  ];
}

function layOut(score: Score, against: string, tallies: Grading['againstChecks']): (string | number)[][] {
  return tallies.map(({ fault, hits, misses, falseAlarms, rightlyLeft }) => [
    score.trainee,
    score.gradedAt,
    score.lessonTitle,
    score.lessonSha256,
    score.grading.blows.length,
    against,
    FAULTS.find(({ id }) => id === fault)!.name,
    hits + misses,
    hits,
    misses,
    falseAlarms,
    rightlyLeft,
  ]);
}
