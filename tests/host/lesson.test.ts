import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parseLesson } from '../../core/classroom/index.ts';
import { importVisit, openStore } from '../../core/workspace/index.ts';
import { readAnswerSheet } from '../../host/commands/readAnswerSheet.ts';
import { makeVisit } from '../../samples/makeVisit.ts';
import { inventPole } from '../../samples/place.ts';
import { STORIES } from '../../samples/stories.ts';
import { runCommand } from './runCommand.ts';

const folder = mkdtempSync(join(tmpdir(), 'stemroot-lesson-'));
const workspace = join(folder, 'class.stemroot');
const at = (name: string) => join(folder, name);

beforeAll(async () => {
  const store = openStore(workspace, { create: true });
  for (const pole of ['KV-0101', 'KV-0109', 'KV-0112']) {
    const story = STORIES.find(({ id }) => id === pole)!;
    const made = makeVisit(inventPole(story), story.visits[0]!);
    await importVisit(store, {
      fileName: `${made.name}.visit.json`,
      readVisitFile: () => Buffer.from(JSON.stringify(made.visit)),
      readRecordingFile: (name) => made.recordings.find(({ file }) => file === name)?.bytes,
    });
  }
  await store.close();
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const run = (...args: string[]) => runCommand('lesson', ...args);

describe('lesson', () => {
  test('is listed, exported, and taken in again under a number of its own', async () => {
    expect((await run('list', workspace)).out).toMatch(/first-blows +First blows/);
    expect(await run('export', workspace, 'first-blows', '--out', at('a.lesson.json'))).toMatchObject({
      code: 0,
      out: `Lesson first-blows written to ${at('a.lesson.json')}\n`,
    });
    expect(parseLesson(readFileSync(at('a.lesson.json'), 'utf8'), 'a').title).toBe('First blows');
    const taken = await run('import', workspace, at('a.lesson.json'));
    expect(taken.out).toMatch(/lesson 1, First blows; the recordings of \d+ of its blows are not here/);
    expect((await run('list', workspace)).out).toMatch(/\n1 +First blows/);
  });

  test('on paper asks for the blows that are graded, in the same order', async () => {
    const quiz = await run('print', workspace, 'first-blows', '--questions', '--out', at('quiz.html'));
    expect(quiz.out).toBe(`Questions of lesson first-blows written to ${at('quiz.html')}\n`);
    const explained = await run('print', workspace, 'first-blows', '--out', at('handout.html'));
    expect(explained.out).toBe(`Handout of lesson first-blows written to ${at('handout.html')}\n`);
    const unmarked = await run('scores', workspace, '--out', at('scores.csv'));
    expect(unmarked.out).toBe(`The workspace holds no scores; ${at('scores.csv')} has none in it\n`);
    const blows = readFileSync(at('quiz.html'), 'utf8').match(/<h2>Blow \d+<\/h2>/g)!.length;
    const handout = readFileSync(at('handout.html'), 'utf8');
    const numberOf = (title: string) =>
      Number(new RegExp(`${title}</h2>[^]*?In the questions: blow (\\d+)`).exec(handout)![1]);
    // what samples/writeFirstBlows.ts states of these blows
    const truth = new Map([
      [numberOf('Clipping'), 'clipping'],
      [numberOf('Hum of the mains'), 'mains-hum'],
    ]);
    const lines = Array.from({ length: blows }, (_, i) => `${i + 1}: ${truth.get(i + 1) ?? 'none'}`);
    writeFileSync(at('answers.txt'), `# R. Ashgrove\n${lines.join('\n')}\n`);
    const graded = await run(
      'grade',
      workspace,
      'first-blows',
      '--trainee',
      'R. Ashgrove',
      '--answers',
      at('answers.txt'),
    );
    expect(graded.code).toBe(0);
    const [, stated] = graded.out.split('Against what the maker of the lesson states');
    expect(stated).toMatch(/Clipping +1 +1 +0 +0/);
    expect(stated).toMatch(/Mains hum +1 +1 +0 +0/);
    const scores = await run('scores', workspace, '--out', at('scores.csv'));
    expect(scores.out).toBe(`1 score written to ${at('scores.csv')}\n`);
    expect(readFileSync(at('scores.csv'), 'utf8')).toContain('R. Ashgrove');
  });

  test('says what is wrong with a lesson, or with answers', async () => {
    expect(await run('export', workspace, 'second', '--out', at('x'))).toMatchObject({ code: 2 });
    expect(await run('export', workspace, '99', '--out', at('x'))).toMatchObject({
      code: 1,
      error: expect.stringContaining('There is no lesson 99'),
    });
    writeFileSync(at('short.txt'), '1: none\n3: none\n');
    expect(
      await run('grade', workspace, 'first-blows', '--trainee', 'A', '--answers', at('short.txt')),
    ).toMatchObject({ code: 1, error: expect.stringMatching(/no answer to blows 2, 4\./) });
  });
});

describe('readAnswerSheet', () => {
  test('reads a line a blow, in any order', () => {
    expect(readAnswerSheet('2: none\r\n# a remark\n\n1 : clipping, noise # sure\n', 'a', 2)).toEqual([
      ['clipping', 'noise'],
      [],
    ]);
    expect(readAnswerSheet('', 'a', 0)).toEqual([]);
  });

  test.each([
    ['1: hum', /line 1: "1: hum" is no answer/],
    ['clipping', /is no answer/],
    ['1:', /is no answer/],
    ['1: none, noise', /is no answer/],
    ['1: none\n1: noise', /blow 1 is answered twice/],
    ['1: none\n3: none', /no answer to blow 2\./],
    ['3: none', /no answer to blows 1, 2\./],
    ['4: none', /3 blows are asked for, and no blow 4/],
  ])('refuses %j', (text, message) => {
    expect(() => readAnswerSheet(text, 'a', 3)).toThrow(message);
  });
});
