import type { Kysely } from 'kysely';
import { gradingSchema } from '../../classroom/index.ts';
import type { CallResponse } from '../contract.ts';
import type { Tables } from '../tables.ts';
import { appendTrail } from '../trail/index.ts';

type Db = Kysely<Tables>;

type Score = CallResponse<'classroom.listScores'>['scores'][number];

/** Keeps the score of a graded quiz. @returns its identity */
export function insertScore(db: Db, score: Omit<Score, 'scoreId'>): Promise<number> {
  return db.transaction().execute(async (transaction) => {
    const { score_id } = await transaction
      .insertInto('quiz_scores')
      .values({
        trainee: score.trainee,
        graded_at: score.gradedAt,
        lesson_title: score.lessonTitle,
        lesson_sha256: score.lessonSha256,
        grading_json: JSON.stringify(score.grading),
      })
      .returning('score_id')
      .executeTakeFirstOrThrow();
    // the trail outlives the score, so it names nobody
    await appendTrail(transaction, { action: 'grade', subject: `quiz score ${score_id}` });
    return score_id;
  });
}

/** Scores, the latest first. */
export async function listScores(db: Db): Promise<Score[]> {
  const rows = await db.selectFrom('quiz_scores').selectAll().orderBy('score_id', 'desc').execute();
  return rows.map((row) => ({
    scoreId: row.score_id,
    trainee: row.trainee,
    gradedAt: row.graded_at,
    lessonTitle: row.lesson_title,
    lessonSha256: row.lesson_sha256,
    grading: gradingSchema.parse(JSON.parse(row.grading_json)),
  }));
}

/** Drops every score of one person. @returns how many */
export function dropScores(db: Db, trainee: string): Promise<number> {
  return db.transaction().execute(async (transaction) => {
    const gone = await transaction
      .deleteFrom('quiz_scores')
      .where('trainee', '=', trainee)
      .returning('score_id')
      .execute();
    if (gone.length > 0) {
      await appendTrail(transaction, {
        action: 'set',
        subject: 'quiz scores of one trainee, dropped',
        before: { scores: gone.map(({ score_id }) => score_id) },
      });
    }
    return gone.length;
  });
}
