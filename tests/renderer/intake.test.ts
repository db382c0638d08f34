import { describe, expect, test } from 'vitest';
import { beginAnswers } from '../../core/intake/index.ts';
import { describeProgress } from '../../renderer/intake/bringing/describeProgress.ts';
import type { FoundFile } from '../../renderer/intake/bringing/foundFile.ts';
import { sortFiles } from '../../renderer/intake/bringing/sortFiles.ts';
import { changeEntry, entryAt, spreadChannel } from '../../renderer/intake/form/changeAnswers.ts';
import { labelOf } from '../../renderer/intake/form/labelOf.ts';
import { changeUnits, otherUnit } from '../../renderer/intake/form/otherUnit.ts';
import { findHint } from '../../renderer/intake/hints/hints.ts';
import type { Answers, Entry } from '../../renderer/intake/intakeTypes.ts';

const entry = (text: string, unit: Entry['unit'] = null): Entry => ({ text, unit, from: 'typed' });
const found = (name: string, text = '', folder = ''): FoundFile => ({ file: new File([text], name), folder });
const visitOf = (...files: string[]) =>
  JSON.stringify({ format: 'stemroot-visit', recordings: files.map((file) => ({ file })) });

describe('sortFiles', () => {
  test('gives each visit the recordings beside it, though another folder has the same names', async () => {
    const { visits, strays } = await sortFiles([
      found('a.visit.json', visitOf('hammer.wav'), 'a'),
      found('b.visit.json', visitOf('hammer.wav', 'shared.csv'), 'b'),
      found('hammer.wav', 'of a', 'a'),
      found('hammer.wav', 'of b', 'b'),
      found('shared.csv', '', 'elsewhere'),
    ]);
    const read = await Promise.all(
      visits.map(async ({ recordings }) => Promise.all(recordings.map((file) => file.text()))),
    );
    expect(read).toEqual([['of a'], ['of b', '']]);
    expect(strays).toEqual([]);
  });

  test('never guesses between two recordings of one name in other folders', async () => {
    const { visits, strays } = await sortFiles([
      found('a.visit.json', visitOf('hammer.wav'), 'a'),
      found('hammer.wav', '1', 'b'),
      found('hammer.wav', '2', 'c'),
    ]);
    expect(visits[0]!.recordings).toEqual([]);
    expect(strays.length).toBe(2);
  });

  test('tells lessons, other files of the program, strangers and what a system leaves behind apart', async () => {
    const sorted = await sortFiles([
      found('l.lesson.json', '{"format":"stemroot-lesson"}'),
      found('c.json', '{"format":"stemroot-calibration"}'),
      found('broken.visit.json', '{'),
      found('photo.jpg'),
      found('.DS_Store'),
      found('Thumbs.db'),
      found('x.WAV'),
    ]);
    expect(sorted.lessons.map(({ name }) => name)).toEqual(['l.lesson.json']);
    expect(sorted.visits.map(({ visitFile }) => visitFile.name)).toEqual(['broken.visit.json']);
    expect(sorted.refused.map(({ file }) => file.name)).toEqual(['c.json', 'photo.jpg']);
    expect(sorted.strays.map(({ name }) => name)).toEqual(['x.WAV']);
  });

  test('nothing gives nothing', async () => {
    expect(await sortFiles([])).toEqual({ visits: [], lessons: [], strays: [], refused: [] });
  });
});

test('time left is told once two are done', () => {
  const of = { of: 10, now: 'a', startedMs: 0 };
  expect(describeProgress({ ...of, done: 1 }, 1000)).toBe('Reading a: 2 of 10');
  expect(describeProgress({ ...of, done: 2 }, 4000)).toBe('Reading a: 3 of 10, about 16 s left');
  expect(describeProgress({ ...of, done: 2 }, 60_000)).toBe('Reading a: 3 of 10, about 4 min left');
});

describe('units', () => {
  test('what is empty takes the new units, what was typed keeps its own', () => {
    const part = { a: entry('', 'm'), b: entry('3', 'm'), c: [{ d: entry('', 'kg'), e: entry('') }] };
    expect(changeUnits(part, 'us')).toEqual({
      a: entry('', 'ft'),
      b: entry('3', 'm'),
      c: [{ d: entry('', 'lb'), e: entry('') }],
    });
  });

  test('what is only usual is said in the new units, with the digits of a tape', () => {
    const usual: Entry = { text: '2', unit: 'm', from: 'usual' };
    expect(changeUnits({ a: usual }, 'us')).toEqual({ a: { text: '6.56', unit: 'ft', from: 'usual' } });
    expect(changeUnits({ a: { ...usual, from: 'last visit' } }, 'us').a.text).toBe('2');
  });

  test('switched forth and back change nothing that was typed, and no value', () => {
    const answers = beginAnswers('metric', {});
    answers.pole.length = entry('10.7', 'm');
    answers.measured.sensorMass = entry('0.5', 'kg');
    expect(changeUnits(changeUnits(answers, 'us'), 'metric')).toEqual(answers);
  });

  test('each unit has one in the other system, and back', () => {
    for (const unit of ['m', 'cm', 'ft', 'in', 'kg', 'lb', 'degC', 'degF'] as const) {
      expect(otherUnit(unit)).not.toBe(unit);
      expect(otherUnit(otherUnit(unit))).toBe(unit);
    }
  });
});

describe('answers', () => {
  const answers = {
    pole: { id: entry('1') },
    recordings: [
      {
        channels: [
          { fullScale: entry('5', 'g'), corner: entry('0.2') },
          { fullScale: entry(''), corner: entry('') },
        ],
      },
      { channels: [{ fullScale: entry('9', 'g'), corner: entry('') }] },
    ],
  } as unknown as Answers;

  test('are changed by their path, and nothing else is', () => {
    const changed = changeEntry(answers, 'recordings.0.channels.1.corner', entry('0.5'));
    expect(entryAt(changed, 'recordings.0.channels.1.corner').text).toBe('0.5');
    expect(changed.pole).toBe(answers.pole);
    expect(changed.recordings[1]).toBe(answers.recordings[1]);
    expect(entryAt(answers, 'recordings.0.channels.1.corner').text).toBe('');
  });

  test('of one channel are spread to all', () => {
    const spread = spreadChannel(answers, 0, 0);
    expect(
      spread.recordings.flatMap(({ channels }) => channels.map(({ fullScale }) => fullScale.text)),
    ).toEqual(['5', '5', '5']);
  });

  test.each([
    ['pole.length', 'Length'],
    ['circumferences.1.height', 'Height, row 2 of circumferences'],
    ['recordings', 'Recordings'],
    ['recordings.0', 'Recording 1'],
    ['recordings.0.exciter', 'Struck by, recording 1'],
    ['recordings.1.channels.0.fullScale', 'Full scale, recording 2, channel 1'],
  ])('%s is called %s', (path, label) => {
    expect(labelOf(path)).toBe(label);
  });
});

test('hints are given one at a time, place by place, until none is left', () => {
  const first = findHint('bench', [], 1)!;
  const second = findHint('bench', [first.id], 1)!;
  expect(second.id).not.toBe(first.id);
  expect(second.place).toBe('bench');
  const done: string[] = [];
  for (let hint = findHint('bench', done, 1); hint; hint = findHint('bench', done, 1)) done.push(hint.id);
  expect(new Set(done).size).toBe(done.length);
});

test('a hint on visits waits until there are some; the way to bring them in is told first', () => {
  expect(findHint('register', [], 0)!.id).toBe('bring-in');
  expect(findHint('register', [], 1)!.id).toBe('register');
  expect(findHint('classroom', [], 0)).toBeNull();
});
