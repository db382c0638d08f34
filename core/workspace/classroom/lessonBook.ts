import { type Lesson, type LessonBlow, shuffleBlows } from '../../classroom/index.ts';
import { InputError } from '../../errors.ts';
import type { CallRequest } from '../contract.ts';
import type { Store } from '../store.ts';
import { FIRST_BLOWS } from './firstBlows.ts';
import { findByOnset, type JudgedBlow, type JudgedBlows } from './judgedBlows.ts';
import { getLesson, listLessons } from './lessons.repository.ts';

export type LessonId = CallRequest<'classroom.openLesson'>['lessonId'];

/** A blow of a lesson with the blow of the workspace that it means, or why there is none. */
export type FoundBlow = { entry: LessonBlow; judged: JudgedBlow | null; missing: string };

/** One turn of a quiz: what it asks about. */
export type QuizTurn = { entry: LessonBlow; judged: JudgedBlow };

export type LessonBook = {
  list(): Promise<{ lessonId: LessonId; lesson: Lesson; changedAt: string | null }[]>;
  /** @throws InputError `lesson.unknown` */
  open(lessonId: LessonId): Promise<Lesson>;
  find(lesson: Lesson): Promise<FoundBlow[]>;
  /** The blows that a quiz asks about, in its own order. @throws InputError `quiz.empty` */
  ask(lesson: Lesson, quiz: number): Promise<QuizTurn[]>;
};

/** Lessons of the workspace and those that come with the program, with their blows looked up by hash and onset. */
export function createLessonBook({ db }: Store, judged: JudgedBlows): LessonBook {
  const findVisits = (recordingSha256: string) =>
    db
      .selectFrom('visit_recordings')
      .innerJoin('visits', 'visits.visit_id', 'visit_recordings.visit_id')
      .innerJoin('poles', 'poles.pole_id', 'visits.pole_id')
      .select(['visits.visit_id', 'visit_recordings.position', 'poles.code', 'visits.measured_on'])
      .where('recording_sha256', '=', recordingSha256)
      .orderBy('visits.visit_id', 'desc')
      .execute();

  const findBlow = async (entry: LessonBlow): Promise<FoundBlow> => {
    const visits = await findVisits(entry.recordingSha256);
    const meant =
      visits.find(({ code, measured_on }) => code === entry.poleId && measured_on === entry.visitDate) ??
      visits[0];
    if (!meant) {
      return { entry, judged: null, missing: `${entry.recordingFile} is not in this workspace.` };
    }
    const blows = (await judged.ofVisit(meant.visit_id)).filter(
      ({ blow }) => blow.recording === meant.position,
    );
    const found = findByOnset(blows, entry.startS);
    const missing = found
      ? ''
      : `${entry.recordingFile} has no blow at ${entry.startS.toFixed(2)} s any more.`;
    return { entry, judged: found, missing };
  };

  const find = async (lesson: Lesson) => {
    const found: FoundBlow[] = [];
    for (const entry of lesson.blows) found.push(await findBlow(entry));
    return found;
  };

  /** Its recordings are asked for by hash alone, so a workspace that holds others is not offered it. */
  const hasFirstBlows = async () => {
    const hashes = [...new Set(FIRST_BLOWS.blows.map(({ recordingSha256 }) => recordingSha256))];
    const { held } = await db
      .selectFrom('recordings')
      .where('sha256', 'in', hashes)
      .select((eb) => eb.fn.countAll<number>().as('held'))
      .executeTakeFirstOrThrow();
    return held > 1;
  };

  return {
    find,
    async list() {
      const kept = await listLessons(db);
      return (await hasFirstBlows())
        ? [{ lessonId: 'first-blows', lesson: FIRST_BLOWS, changedAt: null }, ...kept]
        : kept;
    },
    async open(lessonId) {
      return lessonId === 'first-blows' ? FIRST_BLOWS : (await getLesson(db, lessonId)).lesson;
    },
    async ask(lesson, quiz) {
      const asked = (await find(lesson)).flatMap(({ entry, judged: found }) =>
        found && entry.use !== 'show' ? [{ entry, judged: found }] : [],
      );
      if (asked.length === 0) {
        throw new InputError(
          'quiz.empty',
          `No blow of the lesson "${lesson.title}" can be asked about: none is meant for the quiz, or their recordings are not in this workspace.`,
          'Bring in the recordings, or set blows of the lesson to be asked for.',
        );
      }
      return shuffleBlows(asked.length, quiz).map((i) => asked[i]!);
    },
  };
}
