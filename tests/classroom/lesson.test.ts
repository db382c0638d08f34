import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type JudgedBlow,
  parseLesson,
  proposeLesson,
  shuffleBlows,
  tabulateScores,
} from '../../core/classroom/index.ts';

const blow = (startS: number, faults: JudgedBlow['faults'], exciter: JudgedBlow['exciter'] = 'hammer') => ({
  recordingSha256: 'ab'.repeat(32),
  recordingFile: 'a.wav',
  poleId: 'P-1',
  visitDate: '2026-05-03',
  startS,
  exciter,
  faults,
});

describe('proposeLesson', () => {
  test('shows a good blow by each exciter, then for each fault the blow that shows it most alone, and asks for others', () => {
    const lesson = proposeLesson([
      blow(1, ['clipping', 'noise']),
      blow(2, []),
      blow(3, ['clipping']),
      blow(4, [], 'hand'),
      blow(5, []),
    ]);
    expect(lesson.blows.map(({ startS, title, use }) => [startS, title, use])).toEqual([
      [2, 'A good blow by hammer', 'show'],
      [4, 'A good blow by hand', 'show and ask'],
      [3, 'Clipping', 'show and ask'],
      [1, 'Low over noise', 'show and ask'],
      [5, 'A good blow by hammer', 'ask'],
    ]);
    expect(lesson.blows.every(({ statedFaults }) => statedFaults === null)).toBe(true);
  });

  test('names a blow once that is the best for two faults', () => {
    const { blows } = proposeLesson([blow(1, ['clipping', 'noise'])]);
    expect(blows.map(({ title }) => title)).toEqual(['Clipping; Low over noise']);
  });

  test('asks for no blow whose faults one blow cannot show', () => {
    const { blows } = proposeLesson([
      blow(1, []),
      blow(2, ['repeatability']),
      blow(3, ['corner']),
      blow(4, ['clipping', 'corner']),
    ]);
    expect(blows.map(({ startS, use }) => [startS, use])).toEqual([
      [1, 'show and ask'],
      [4, 'show and ask'],
      [3, 'show'],
      [2, 'show'],
    ]);
  });

  test('refuses a workspace without blows', () => {
    expect(() => proposeLesson([])).toThrow('There is no blow in this workspace');
  });
});

describe('parseLesson', () => {
  const written = JSON.stringify(proposeLesson([blow(1, ['rattle'])]));

  test('reads what was written', () => {
    expect(JSON.stringify(parseLesson(written, 'a.json'))).toBe(written);
  });

  test.each([
    ['no JSON', '{', /^a.json is not JSON/],
    ['another kind of file', '{"format":"stemroot-visit"}', /^a.json, field format: /],
    [
      'a fault that nobody checks',
      written.replace('"statedFaults":null', '"statedFaults":["echo"]'),
      /statedFaults/,
    ],
    ['a hash that is none', written.replace(/(ab){32}/, 'cafe'), /expected 64 hexadecimal digits/],
    ['a field that is not known', written.replace('"maker"', '"author"'), /"author" is not known here|maker/],
  ])('refuses %s by its field', (_, content, message) => {
    expect(() => parseLesson(content, 'a.json')).toThrow(message);
  });
});

describe('shuffleBlows', () => {
  test('has every blow once, and the same order for the same number', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 60 }),
        fc.integer({ min: 0, max: 2 ** 32 - 1 }),
        (count, number) => {
          const order = shuffleBlows(count, number);
          expect(order.toSorted((a, b) => a - b)).toEqual(Array.from({ length: count }, (_, i) => i));
          expect(shuffleBlows(count, number)).toEqual(order);
        },
      ),
    );
  });

  test('puts each of four blows first about as often', () => {
    const firsts = [0, 0, 0, 0];
    for (let number = 0; number < 4000; number++) firsts[shuffleBlows(4, number * 7919)[0]!]!++;
    // binomial: standard deviation 27 about 1000; four of them
    for (const count of firsts) expect(Math.abs(count - 1000)).toBeLessThan(4 * 27.4);
  });
});

test('scores become one row a quiz, key and fault, with what was there beside what was named', () => {
  const tally = { fault: 'clipping' as const, hits: 2, misses: 1, falseAlarms: 3, rightlyLeft: 4 };
  const grading = { blows: [], againstChecks: [tally], againstStated: [{ ...tally, hits: 0 }] };
  const score = {
    trainee: 'A. N.',
    gradedAt: '2026-07-01T08:00:00.000Z',
    lessonTitle: 'First',
    lessonSha256: 'ff',
    grading,
  };
  const [heads, checks, stated] = tabulateScores([score]);
  expect(heads).toContain('false_alarms');
  expect(checks).toEqual([
    ...['A. N.', score.gradedAt, 'First', 'ff', 0, 'checks', 'Clipping'],
    ...[3, 2, 1, 3, 4],
  ]);
  expect(stated!.slice(5)).toEqual(['stated truth', 'Clipping', 1, 0, 1, 3, 4]);
  expect(tabulateScores([]).length).toBe(1);
});
