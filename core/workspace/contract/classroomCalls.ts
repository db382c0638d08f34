import { z } from 'zod';
import { faultIdSchema, gradingSchema, lessonSchema } from '../../classroom/index.ts';
import { numbers, sha256, visitId } from './common.ts';

const exciter = z.enum(['hammer', 'hand', 'unknown']);
const verdict = z.enum(['use', 'use with care', 'repeat']);
const seconds = z.number().min(0).max(1e5);
const hertz = z.number().positive().max(24000);
const span = z.tuple([z.number(), z.number()]);

/** One blow of the workspace: where it is, and what the checks say of it. */
const blowSchema = z.object({
  visitId,
  poleId: z.string(),
  visitDate: z.string(),
  recording: z.int().min(0).describe('Index among the recordings of the visit.'),
  recordingFile: z.string(),
  recordingSha256: sha256,
  exciter,
  startS: z.number().describe('Onset in the recording.'),
  durationS: z.number().describe('Of the ring-down that is analysed.'),
  verdict,
  faults: z.array(faultIdSchema),
});

const checkWords = z.object({
  fault: faultIdSchema,
  verdict,
  text: z.string(),
  advice: z.string(),
});

/** Where a fault shows. Times count from the onset; null: not bounded in this respect. */
const markSchema = z.object({
  fault: faultIdSchema,
  channel: z.int().nullable(),
  timeS: span.nullable(),
  frequencyHz: span.nullable(),
  level: z.object({ mPerS2: z.number(), bothSides: z.boolean() }).nullable(),
  words: z.string(),
});

/** Built-in lessons have a name, those kept in the workspace a number. */
const lessonId = z.union([z.int().positive(), z.literal('first-blows')]);
const quizNumber = z.int().min(0).max(0xffffffff).describe('Fixes the order of the blows.');

/** A blow by its place, or by its turn in a quiz, which tells nothing else of it. */
const of = z.union([
  z.object({ visitId, recording: z.int().min(0), startS: seconds }),
  z.object({ lessonId, quiz: quizNumber, turn: z.int().min(0).max(59) }),
]);

const lessonBlow = z.object({
  blow: blowSchema.nullable(),
  missing: z.string().describe('Why there is no such blow in this workspace; empty where there is.'),
});

const lessonEntry = z.object({
  lessonId,
  title: z.string(),
  maker: z.string(),
  blows: z.int(),
  asked: z.int().describe('Blows that its quiz asks for.'),
  changedAt: z.string().nullable().describe('null: comes with the program.'),
});

const score = z.object({
  scoreId: z.int(),
  trainee: z.string(),
  gradedAt: z.string(),
  lessonTitle: z.string(),
  lessonSha256: sha256,
  grading: gradingSchema,
});

const file = z.object({ fileName: z.string(), text: z.string() });

/** The classroom: blows of the workspace and their pictures, lessons, quizzes and their scores. */
export const classroomCalls = {
  'classroom.findBlows': {
    request: z.object({
      words: z
        .string()
        .max(200)
        .default('')
        .describe('All of them must be in pole, date, file name or exciter.'),
      fault: z
        .union([faultIdSchema, z.enum(['any', 'none'])])
        .nullable()
        .default(null),
      afterVisitId: z.int().min(0).default(0),
      visits: z.int().min(1).max(200).default(20).describe('At most so many visits are looked through.'),
    }),
    response: z.object({
      blows: z.array(blowSchema),
      nextAfter: z.int().nullable().describe('Where the next call goes on; null: all were looked through.'),
      looked: z.int(),
      left: z.int(),
    }),
  },
  'classroom.describeBlow': {
    request: z.object({ visitId, recording: z.int().min(0), startS: seconds }),
    response: z.object({ blow: blowSchema, checks: z.array(checkWords), marks: z.array(markSchema) }),
  },
  'classroom.waveform': {
    request: z.object({
      of,
      fromS: z.number().min(-10).max(1e5).optional().describe('From the onset.'),
      toS: z.number().max(1e5).optional(),
      columns: z.int().min(16).max(4000).default(800),
    }),
    response: z.object({
      timesS: numbers,
      fullScaleMPerS2: z.number().nullable(),
      channels: z.array(z.object({ azimuthDeg: z.number(), low: numbers, high: numbers })),
    }),
  },
  'classroom.spectrum': {
    request: z.object({ of, maximumHz: hertz.default(80) }),
    response: z.object({
      frequenciesHz: numbers,
      channels: z.array(z.object({ azimuthDeg: z.number(), values: numbers.describe('m/s2') })),
    }),
  },
  'classroom.spectrogram': {
    request: z.object({
      of,
      channel: z.int().min(0).max(15).default(0),
      maximumHz: hertz.default(80),
      sharpIn: z.enum(['frequency', 'time']).default('frequency'),
    }),
    response: z.object({
      timesS: numbers,
      frequenciesHz: numbers,
      values: z.array(numbers).describe('dB re 1 (m/s2)2/Hz; values[i][j] at frequenciesHz[i], timesS[j].'),
    }),
  },
  'classroom.sound': {
    request: z.object({ of, channel: z.int().min(0).max(15).default(0) }),
    response: z.object({ sampleRateHz: z.number(), samplesMPerS2: numbers }),
  },
  'classroom.listLessons': {
    request: z.object({}),
    response: z.object({ lessons: z.array(lessonEntry) }),
  },
  'classroom.openLesson': {
    request: z.object({ lessonId }),
    response: z.object({
      lesson: lessonSchema,
      blows: z.array(lessonBlow).describe('In the order of the lesson.'),
    }),
  },
  'classroom.proposeLesson': {
    request: z.object({ blows: z.array(blowSchema).max(5000) }),
    response: z.object({ lesson: lessonSchema }),
  },
  'classroom.keepLesson': {
    request: z.object({ lessonId: z.int().positive().nullable(), lesson: lessonSchema }),
    response: z.object({ lessonId: z.int() }),
  },
  'classroom.dropLesson': {
    request: z.object({ lessonId: z.int().positive() }),
    response: z.object({}),
  },
  'classroom.exportLesson': { request: z.object({ lessonId }), response: file },
  'classroom.importLesson': {
    request: z.object({ fileName: z.string().min(1).max(255), text: z.string().max(1024 * 1024) }),
    response: z.object({
      lessonId: z.int(),
      title: z.string(),
      missing: z.int().describe('Blows whose recordings are not in this workspace.'),
    }),
  },
  'classroom.startQuiz': {
    request: z.object({ lessonId, quiz: quizNumber }),
    response: z.object({
      title: z.string(),
      turns: z.array(z.object({ exciter, azimuthsDeg: numbers, durationS: z.number() })),
    }),
  },
  'classroom.gradeQuiz': {
    request: z.object({
      lessonId,
      quiz: quizNumber,
      trainee: z.string().trim().min(1).max(120),
      answers: z.array(z.array(faultIdSchema).max(20)).max(60).describe('In the order of the turns.'),
    }),
    response: z.object({
      scoreId: z.int(),
      grading: gradingSchema,
      blows: z.array(blowSchema).describe('What each turn was.'),
    }),
  },
  'classroom.listScores': {
    request: z.object({}),
    response: z.object({ scores: z.array(score).describe('The latest first.') }),
  },
  'classroom.exportScores': { request: z.object({}), response: file },
  'classroom.dropScores': {
    request: z.object({ trainee: z.string().min(1).max(120) }),
    response: z.object({ dropped: z.int() }),
  },
  'classroom.printHandout': {
    request: z.object({
      lessonId,
      form: z
        .enum(['explained', 'questions'])
        .describe('questions: pictures without names, and lines to write on.'),
    }),
    response: file,
  },
};
