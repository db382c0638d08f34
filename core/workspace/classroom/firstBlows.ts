import { lessonSchema } from '../../classroom/index.ts';
import written from './first-blows.lesson.json' with { type: 'json' };

/** The lesson that comes with the program; samples/writeFirstBlows.ts writes it, and a test holds the two together. */
export const FIRST_BLOWS = lessonSchema.parse(written);
