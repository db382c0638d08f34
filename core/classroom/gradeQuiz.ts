import { z } from 'zod';
import { InputError } from '../errors.ts';
import { FAULTS, type FaultId, faultIdSchema, QUIZ_FAULTS } from './faults.ts';

const tallySchema = z.object({
  fault: faultIdSchema,
  hits: z.int().describe('Named, and there.'),
  misses: z.int().describe('Not named, though there.'),
  falseAlarms: z.int().describe('Named, though not there.'),
  rightlyLeft: z.int().describe('Not named, and not there.'),
});

const gradedBlowSchema = z.object({
  answer: z.array(faultIdSchema),
  byChecks: z
    .array(faultIdSchema)
    .describe('What the checks of the program find; with it what no quiz asks for, which is not graded.'),
  notJudged: z
    .array(faultIdSchema)
    .describe('What the checks could not judge on this blow; it is not graded.'),
  stated: z.array(faultIdSchema).nullable().describe('What the maker of the lesson states; null: nothing.'),
});

/** A graded quiz: each blow with answer and keys, and counts of each fault against both keys. */
export const gradingSchema = z.object({
  blows: z.array(gradedBlowSchema),
  againstChecks: z.array(tallySchema),
  againstStated: z
    .array(tallySchema)
    .nullable()
    .describe('Over the blows whose truth is stated; null where none is.'),
});

export type Grading = z.infer<typeof gradingSchema>;
type Tally = z.infer<typeof tallySchema>;

/** What is right for one blow. */
export type QuizKey = {
  readonly byChecks: readonly FaultId[];
  readonly notJudged: readonly FaultId[];
  readonly stated: readonly FaultId[] | null;
};

/**
 * Grades the answers of a quiz fault by fault, as signals named or not (hit, miss, false alarm, correct rejection: Green
 * and Swets 1966, Signal Detection Theory and Psychophysics, ch. 2). Faults that a quiz does not ask for are named and not counted.
 * @param answers - faults named for each blow, in the order of the keys
 * @throws InputError `quiz.answers` where their number differs from that of the keys
 */
export function gradeQuiz(answers: readonly (readonly FaultId[])[], keys: readonly QuizKey[]): Grading {
  if (answers.length !== keys.length) {
    throw new InputError(
      'quiz.answers',
      `There are ${answers.length} answers to ${keys.length} blows.`,
      'Answer every blow once; start the quiz again if the lesson was changed meanwhile.',
    );
  }
  const blows = keys.map(({ byChecks, notJudged, stated }, i) => ({
    answer: inOrder(answers[i]!),
    byChecks: inOrder(byChecks),
    notJudged: inOrder(notJudged),
    stated: stated && inOrder(stated),
  }));
  const told = blows.flatMap(({ answer, stated }) => (stated ? [{ answer, key: stated, left: [] }] : []));
  return {
    blows,
    againstChecks: countAll(
      blows.map(({ answer, byChecks, notJudged }) => ({ answer, key: byChecks, left: notJudged })),
    ),
    againstStated: told.length > 0 ? countAll(told) : null,
  };
}

type Graded = {
  readonly answer: readonly FaultId[];
  readonly key: readonly FaultId[];
  readonly left: readonly FaultId[];
};

function countAll(blows: readonly Graded[]): Tally[] {
  return QUIZ_FAULTS.map((fault) => {
    const graded = blows.filter(({ left }) => !left.includes(fault));
    const count = (named: boolean, there: boolean) =>
      graded.filter(({ answer, key }) => answer.includes(fault) === named && key.includes(fault) === there)
        .length;
    return {
      fault,
      hits: count(true, true),
      misses: count(false, true),
      falseAlarms: count(true, false),
      rightlyLeft: count(false, false),
    };
  });
}

/** Each fault once, in the order in which they are taught. */
function inOrder(faults: readonly FaultId[]): FaultId[] {
  return FAULTS.flatMap(({ id }) => (faults.includes(id) ? [id] : []));
}
