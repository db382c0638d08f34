import type { Kysely } from 'kysely';
import { type Lesson, lessonSchema } from '../../classroom/index.ts';
import { InputError } from '../../errors.ts';
import type { Tables } from '../tables.ts';
import { appendTrail } from '../trail/index.ts';

type Db = Kysely<Tables>;

export type KeptLesson = { lessonId: number; lesson: Lesson; changedAt: string };

export async function listLessons(db: Db): Promise<KeptLesson[]> {
  const rows = await db.selectFrom('lessons').selectAll().orderBy('lesson_id').execute();
  return rows.map(readLesson);
}

/** @throws InputError `lesson.unknown` */
export async function getLesson(db: Db, lessonId: number): Promise<KeptLesson> {
  const row = await db.selectFrom('lessons').selectAll().where('lesson_id', '=', lessonId).executeTakeFirst();
  if (row) return readLesson(row);
  throw unknownLesson(lessonId);
}

/** Keeps a new lesson, or one changed. @param lessonId - null for a new one @returns its identity */
export function keepLesson(db: Db, lessonId: number | null, lesson: Lesson): Promise<number> {
  return db.transaction().execute(async (transaction) => {
    const kept = { lesson_json: JSON.stringify(lesson), changed_at: new Date().toISOString() };
    const row = await (lessonId === null
      ? transaction.insertInto('lessons').values(kept).returning('lesson_id').executeTakeFirst()
      : transaction
          .updateTable('lessons')
          .set(kept)
          .where('lesson_id', '=', lessonId)
          .returning('lesson_id')
          .executeTakeFirst());
    if (!row) throw unknownLesson(lessonId);
    const after = { title: lesson.title, blows: lesson.blows.length };
    await appendTrail(transaction, { action: 'set', subject: `lesson ${row.lesson_id}`, after });
    return row.lesson_id;
  });
}

/** @throws InputError `lesson.unknown` */
export function dropLesson(db: Db, lessonId: number): Promise<void> {
  return db.transaction().execute(async (transaction) => {
    const { lesson } = await getLesson(transaction, lessonId);
    await transaction.deleteFrom('lessons').where('lesson_id', '=', lessonId).execute();
    const before = { title: lesson.title, blows: lesson.blows.length };
    await appendTrail(transaction, { action: 'set', subject: `lesson ${lessonId}`, before });
  });
}

function readLesson(row: { lesson_id: number; lesson_json: string; changed_at: string }): KeptLesson {
  return {
    lessonId: row.lesson_id,
    lesson: lessonSchema.parse(JSON.parse(row.lesson_json)),
    changedAt: row.changed_at,
  };
}

function unknownLesson(lessonId: number | string | null): InputError {
  return new InputError(
    'lesson.unknown',
    `There is no lesson ${lessonId} in this workspace.`,
    'Choose one of the lessons that the classroom lists.',
  );
}
