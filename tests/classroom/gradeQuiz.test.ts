import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type FaultId, gradeQuiz, QUIZ_FAULTS, type QuizKey } from '../../core/classroom/index.ts';

/*
 * The four outcomes and their names are those of Green and Swets 1966, Signal Detection Theory and Psychophysics, ch. 2:
 * hit, miss, false alarm, correct rejection. The counts below are worked out by hand.
 */
const key = (byChecks: FaultId[], stated: FaultId[] | null = null, notJudged: FaultId[] = []): QuizKey => ({
  byChecks,
  stated,
  notJudged,
});

const tallyOf = (tallies: ReturnType<typeof gradeQuiz>['againstChecks'], fault: FaultId) => {
  const { hits, misses, falseAlarms, rightlyLeft } = tallies.find((tally) => tally.fault === fault)!;
  return [hits, misses, falseAlarms, rightlyLeft];
};

describe('gradeQuiz', () => {
  test('counts hits, misses, false alarms and what was rightly left, by hand', () => {
    const grading = gradeQuiz(
      [['clipping'], ['clipping', 'rattle'], [], ['noise']],
      [key(['clipping']), key([]), key(['clipping', 'noise']), key(['noise'])],
    );
    expect(tallyOf(grading.againstChecks, 'clipping')).toEqual([1, 1, 1, 1]);
    expect(tallyOf(grading.againstChecks, 'noise')).toEqual([1, 1, 0, 2]);
    expect(tallyOf(grading.againstChecks, 'rattle')).toEqual([0, 0, 1, 3]);
    expect(tallyOf(grading.againstChecks, 'offset')).toEqual([0, 0, 0, 4]);
    expect(grading.againstStated).toBeNull();
  });

  test('grades against the stated truth apart, over the blows for which it is stated', () => {
    const grading = gradeQuiz(
      [['clipping'], ['clipping'], []],
      [key([], ['clipping']), key(['clipping'], []), key(['clipping'])],
    );
    expect(tallyOf(grading.againstChecks, 'clipping')).toEqual([1, 1, 1, 0]);
    expect(tallyOf(grading.againstStated!, 'clipping')).toEqual([1, 0, 1, 0]);
  });

  test('what a check could not judge counts neither for nor against', () => {
    const grading = gradeQuiz([['double-blow']], [key(['clipping'], null, ['double-blow'])]);
    expect(tallyOf(grading.againstChecks, 'double-blow')).toEqual([0, 0, 0, 0]);
    expect(tallyOf(grading.againstChecks, 'clipping')).toEqual([0, 1, 0, 0]);
  });

  test('faults that one blow cannot show are named and not counted', () => {
    const grading = gradeQuiz([[]], [key(['repeatability', 'corner'])]);
    expect(grading.blows[0]).toMatchObject({ answer: [], byChecks: ['corner', 'repeatability'] });
    expect(grading.againstChecks.some(({ hits, misses }) => hits + misses > 0)).toBe(false);
    expect(grading.againstChecks.map(({ fault }) => fault)).toEqual(QUIZ_FAULTS);
  });

  test('no blow gives nothing to count', () => {
    expect(gradeQuiz([], []).againstChecks.every(({ hits, misses }) => hits + misses === 0)).toBe(true);
  });

  test('says how many answers there are to how many blows where they differ', () => {
    expect(() => gradeQuiz([[]], [])).toThrow('There are 1 answers to 0 blows.');
  });

  test('every graded fault of every blow falls into exactly one of the four', () => {
    const faults = fc.subarray([...QUIZ_FAULTS]);
    fc.assert(
      fc.property(fc.array(fc.tuple(faults, faults, faults)), (blows) => {
        const { againstChecks } = gradeQuiz(
          blows.map(([answer]) => answer),
          blows.map(([, there, unjudged]) => key(there, null, unjudged)),
        );
        for (const { fault, hits, misses, falseAlarms, rightlyLeft } of againstChecks) {
          const judged = blows.filter(([, , unjudged]) => !unjudged.includes(fault)).length;
          expect(hits + misses + falseAlarms + rightlyLeft).toBe(judged);
          expect(hits + misses).toBe(
            blows.filter(([, there, unjudged]) => there.includes(fault) && !unjudged.includes(fault)).length,
          );
        }
      }),
    );
  });
});
