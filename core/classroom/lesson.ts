import { z } from 'zod';
import { FormatError, InputError } from '../errors.ts';
import { parseJson } from '../parseJson.ts';
import { parsePlainly } from '../parsePlainly.ts';
import { faultIdSchema } from './faults.ts';

const line = (longest: number) =>
  z
    .string()
    .max(longest)
    .regex(/^\P{Cc}*$/u, 'control characters are not allowed');
/** Lines may be broken. */
const text = (longest: number) =>
  z
    .string()
    .max(longest)
    .regex(/^[\P{Cc}\n\t]*$/u, 'control characters are not allowed');

const lessonBlowSchema = z.strictObject({
  recordingSha256: z.string().regex(/^[0-9a-f]{64}$/, 'expected 64 hexadecimal digits'),
  recordingFile: line(255).describe('Name of the file, for people; the hash decides.'),
  poleId: line(80),
  visitDate: line(20),
  startS: z.number().min(0).max(1e5).describe('Onset in the recording.'),
  title: line(120).default(''),
  note: text(2000).default(''),
  use: z
    .enum(['show and ask', 'show', 'ask'])
    .default('show and ask')
    .describe('Whether the lesson shows it, the quiz asks for it, or both.'),
  statedFaults: z
    .array(faultIdSchema)
    .nullable()
    .default(null)
    .describe('What is truly wrong, by whoever made the lesson; empty: nothing; null: not stated.'),
});

/** A lesson: blows of recordings in order, with words. It names recordings by their hash and holds none. */
export const lessonSchema = z.strictObject({
  format: z.literal('stemroot-lesson'),
  version: z.literal(1),
  title: line(120).min(1),
  maker: line(120).default(''),
  notes: text(4000).default(''),
  blows: z.array(lessonBlowSchema).min(1).max(60),
});

export type Lesson = z.infer<typeof lessonSchema>;
export type LessonBlow = Lesson['blows'][number];

const LARGEST_LESSON_CHARACTERS = 1024 * 1024;

/**
 * Reads the text of a lesson file.
 * @throws FormatError `lesson.json`, `lesson.size`; InputError `lesson.field` naming the first field that is missing,
 *   unknown or out of range
 */
export function parseLesson(content: string, fileName: string): Lesson {
  if (content.length > LARGEST_LESSON_CHARACTERS) {
    throw new FormatError(
      'lesson.size',
      `${fileName} has ${content.length} characters; a lesson has at most ${LARGEST_LESSON_CHARACTERS}.`,
      'A lesson names recordings and holds none; export it again from the classroom.',
    );
  }
  let raw: unknown;
  try {
    raw = parseJson(content);
  } catch (error) {
    throw new FormatError(
      'lesson.json',
      `${fileName} is not JSON: ${(error as Error).message}.`,
      'Export the lesson again from the classroom.',
    );
  }
  const result = parsePlainly(lessonSchema, raw);
  if (result.success) return result.data;
  throw new InputError(
    'lesson.field',
    `${fileName}, field ${result.field}: ${result.words}.`,
    'Correct the field, or export the lesson again from the classroom.',
  );
}
