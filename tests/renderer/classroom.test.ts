import { describe, expect, test } from 'vitest';
import type { Blow, Lesson, OpenedLesson } from '../../renderer/classroom/classroomTypes.ts';
import {
  addBlow,
  hasBlow,
  moveBlow,
  NEW_LESSON,
  removeBlow,
} from '../../renderer/classroom/lessons/lessonDraft.ts';
import { chooseSides } from '../../renderer/classroom/look/chooseSides.ts';
import { nameAxes } from '../../renderer/classroom/look/nameAxes.ts';
import { zoomOn } from '../../renderer/classroom/look/zoomOn.ts';
import { listFaults } from '../../renderer/classroom/nameFault.ts';
import { drawMarks, marksInFrequency, marksInTime } from '../../renderer/classroom/pictures/drawMarks.ts';
import { endsBefore } from '../../renderer/classroom/pictures/endsBefore.ts';
import { compareAnswer } from '../../renderer/classroom/quiz/compareAnswer.ts';
import { describeSpeed, prepareSound, SPEEDS } from '../../renderer/classroom/sound/prepareSound.ts';
import { palettes } from '../../renderer/theme.ts';

const blow = (startS: number, faults: Blow['faults'] = [], exciter: Blow['exciter'] = 'hammer'): Blow => ({
  visitId: 1,
  poleId: 'P-1',
  visitDate: '2026-05-03',
  recording: 0,
  recordingFile: 'a.wav',
  recordingSha256: 'ab'.repeat(32),
  exciter,
  startS,
  durationS: 8,
  verdict: faults.length > 0 ? 'repeat' : 'use',
  faults,
});

describe('prepareSound', () => {
  /** Rising zero crossings a second: the pitch of a sine. */
  function pitchOf({ samples, rateHz, playbackRate }: ReturnType<typeof prepareSound>): number {
    const crossings = samples.filter((value, i) => i > 0 && samples[i - 1]! < 0 && value >= 0).length;
    return (crossings * rateHz * playbackRate) / samples.length;
  }

  test.each(SPEEDS)('a swing of 10 Hz sounds %i times as high', (speed) => {
    const rateHz = 1000;
    const samples = Array.from(
      { length: 10 * rateHz },
      (_, i) => 3 + Math.sin((2 * Math.PI * 10 * i) / rateHz + 0.3),
    );
    const sound = prepareSound(samples, rateHz, speed);
    // 100 swings; the last may be faded away
    expect(pitchOf(sound) / (10 * speed)).toBeCloseTo(1, 1);
    expect(sound.durationS).toBeCloseTo(10 / speed, 6);
    expect(Math.max(...sound.samples.map(Math.abs))).toBeLessThanOrEqual(0.8001);
    expect(Math.max(...sound.samples)).toBeGreaterThan(0.75);
    expect(Math.abs(sound.samples.at(-1)!)).toBeLessThan(0.02);
  });

  test('stays within the rates that every browser plays, at the speed asked for', () => {
    // Web Audio API 1.1: 8 to 96 kHz at least
    for (const rateHz of [25, 1000, 4000, 48_000]) {
      const sound = prepareSound([0, 1, 0, -1], rateHz, 32);
      expect(sound.rateHz).toBeGreaterThanOrEqual(8000);
      expect(sound.rateHz).toBeLessThanOrEqual(96_000);
      expect(sound.rateHz * sound.playbackRate).toBeCloseTo(32 * rateHz, 6);
    }
  });

  test('silence stays silent', () => {
    expect([...prepareSound([2, 2, 2], 1000, 8).samples]).toEqual([0, 0, 0]);
  });

  test('the speed is said in times and octaves', () => {
    expect(describeSpeed(16)).toBe('16 times as fast, 4 octaves up: 2 to 60 Hz sound as 32 to 960 Hz');
  });
});

describe('chooseSides', () => {
  const open = (blows: (Blow | null)[], uses: Lesson['blows'][number]['use'][] = []): OpenedLesson => ({
    lesson: {
      ...NEW_LESSON,
      blows: blows.map((b, i) => ({
        ...addBlow(NEW_LESSON, b ?? blow(0)).blows[0]!,
        use: uses[i] ?? 'show and ask',
      })),
    },
    blows: blows.map((b) => ({ blow: b, missing: b ? '' : 'gone' })),
  });

  test('lays the first faulty blow at the right, and a good one by the same exciter at the left', () => {
    const [byHammer, byHand, faulty] = [blow(1), blow(2, [], 'hand'), blow(3, ['noise'], 'hand')];
    expect(chooseSides(open([byHammer, byHand, faulty]))).toEqual({ left: byHand, right: faulty });
    expect(chooseSides(open([byHammer, faulty]))).toEqual({ left: byHammer, right: faulty });
  });

  test('passes over what is missing or only asked for, and lays nothing where there is nothing', () => {
    const faulty = blow(3, ['noise']);
    expect(chooseSides(open([null, faulty], ['show', 'ask']))).toEqual({ left: null, right: null });
  });
});

test('blows of a lesson are added, moved within its ends, found and taken out', () => {
  const [a, b] = [blow(1), blow(2)];
  const lesson = [a, b].reduce(addBlow, NEW_LESSON);
  const starts = (l: Lesson) => l.blows.map(({ startS }) => startS);
  expect(starts(lesson)).toEqual([1, 2]);
  expect(hasBlow(lesson, a)).toBe(true);
  expect(hasBlow(lesson, blow(3))).toBe(false);
  expect(starts(moveBlow(lesson, 0, 1))).toEqual([2, 1]);
  expect(moveBlow(lesson, 0, -1)).toBe(lesson);
  expect(moveBlow(lesson, 1, 1)).toBe(lesson);
  expect(starts(removeBlow(lesson, 0))).toEqual([2]);
});

test('faults are listed as a sentence', () => {
  expect(listFaults([])).toBe('nothing wrong');
  expect(listFaults(['noise', 'low-band'])).toBe('Low over noise, mode 1 not excited');
});

describe('marks', () => {
  const mark = {
    fault: 'rattle' as const,
    channel: null,
    timeS: null,
    frequencyHz: null,
    level: null,
    words: 'w',
  };

  test('lie in time, in frequency, or all over the time', () => {
    const marks = [
      { ...mark, timeS: [1, 2] as [number, number], frequencyHz: [150, 500] as [number, number] },
      { ...mark, frequencyHz: [49, 51] as [number, number] },
      { ...mark, channel: 1 },
    ];
    expect(marksInTime(marks, [-1, 9]).map(({ span }) => span)).toEqual([
      [1, 2],
      [-1, 9],
    ]);
    expect(marksInFrequency(marks).map(({ span }) => span)).toEqual([[49, 51]]);
  });

  test('are drawn within what is shown, on their strip, with the same words once, at the top', () => {
    const strips = [
      { from: 0.5, to: 1 },
      { from: 0, to: 0.5 },
    ];
    const drawn = [1, 2, 5].map((at) => ({
      span: [at, at + 0.5] as const,
      words: 'tapping',
      channel: 1,
      fault: 'rattle',
    }));
    const { shapes, annotations } = drawMarks(palettes.light, drawn, strips, [0, 2.2]);
    expect(shapes.map((shape) => shape)).toMatchObject([
      { x0: 1, x1: 1.5, y0: 0, y1: 0.5 },
      { x0: 2, x1: 2.2 },
    ]);
    expect(annotations).toMatchObject([{ text: 'tapping', x: 1, y: 1 }]);
  });
});

describe('nameAxes', () => {
  test.each([
    ['one blow', [[139, 229]], ['axis 139°', 'axis 229°']],
    [
      'two that were sensed alike',
      [
        [77, 167],
        [77, 167],
      ],
      ['axis 77°', 'axis 167°'],
    ],
    [
      'two that were not',
      [
        [139, 229],
        [77, 167],
      ],
      ['axis left 139°, right 77°', 'axis left 229°, right 167°'],
    ],
    ['one with fewer axes', [[139], [77, 167]], ['axis left 139°, right 77°', 'axis left 139°, right 167°']],
    ['one that is not laid yet', [[], [-1]], ['axis 359°']],
    ['none', [], []],
  ])('of %s names each place among the channels', (_, blows, names) => {
    expect(nameAxes(blows)).toEqual(names);
  });
});

test('a blow with nothing wrong but what no quiz asks for is not called right', () => {
  expect(compareAnswer([], [], [])).toBe('Right: nothing wrong.');
  expect(compareAnswer([], ['repeatability'], [])).toBe(
    'Not graded: Blows disagree; it takes two blows to see.',
  );
  expect(compareAnswer(['clipping'], ['clipping', 'corner'], [])).toMatch(
    /^Right: Clipping\. Not graded: Sensor blocks low frequencies; it is told from the data sheet/,
  );
  expect(compareAnswer(['rattle', 'noise'], ['corner', 'clipping'], ['noise'])).toMatch(
    /^Missed: Clipping\. False alarm: Rattle\. Not graded: /,
  );
});

test('a fault is shown from near, in the pictures that tell it: a flat top in the waveform alone, an end beside its beginning', () => {
  const mark = { channel: 0, frequencyHz: null, level: null, words: 'w' };
  expect(zoomOn([{ ...mark, fault: 'clipping', timeS: [0.5, 0.504] }])).toEqual({
    timeRangeS: [0.5 - 0.015, 0.504 + 0.015],
    sharpIn: 'time',
    pictures: ['waveform'],
  });
  expect(zoomOn([{ ...mark, fault: 'double-blow', timeS: [1, 1] }])).toEqual({
    timeRangeS: [1 - 0.12, 1 + 0.12],
    sharpIn: 'time',
    pictures: ['waveform', 'spectrum'],
  });
  expect(zoomOn([{ ...mark, fault: 'cut-short', timeS: [1, 1] }])?.timeRangeS).toEqual([-0.12, 1.12]);
  expect(zoomOn([{ ...mark, fault: 'mains-hum', timeS: null, frequencyHz: [49, 51] }])).toEqual({
    timeRangeS: null,
    frequencyRangeHz: [39, 61],
    pictures: ['spectrum', 'spectrogram'],
  });
  expect(zoomOn([])).toBeNull();
});

test('a spectrogram of which nothing is in view is told from one that is cut', () => {
  const until = (...timesS: number[]) => endsBefore({ timesS, frequenciesHz: [], values: [] }, [-0.2, 3]);
  expect(until(-0.47, -0.34)).toBe(true);
  expect(until()).toBe(true);
  expect(until(-0.47, 0.1)).toBe(false);
});
