import { type Kysely, sql } from 'kysely';
import { importVisit, type Store } from '../../core/workspace/index.ts';
import type { Tables } from '../../core/workspace/tables.ts';
import { appendTrail } from '../../core/workspace/trail/index.ts';
import { fillForProof } from '../workspace/fillForProof.ts';
import { LONG_S, makeCsv, makeSource, makeVisitFile } from '../workspace/visitSources.ts';

const HASH = 'ab'.repeat(32);
const NOW = '2026-05-01T10:00:00.000Z';

/** Rows of every table that {@link fillForProof} leaves empty, one statement a row, in an order that its links allow. */
const ROWS = [
  sql`INSERT INTO break_test_sets (file_name, csv_brotli, csv_sha256, mapping_json, contents_sha256, refused_json, kept_at)
    VALUES ('Brüche – 1.csv', ${Buffer.from([0, 255, 7])}, ${HASH}, '{}', ${HASH}, '[]', ${NOW})`,
  sql`INSERT INTO break_tests (set_id, line, pole_code, test_json) VALUES (1, 2, 'TV-0001', '{"momentNm":31.5e3}')`,
  sql`INSERT INTO break_test_choices (test_id, standing, chosen_at, chosen_by, reason)
    VALUES (1, 'set aside', ${NOW}, 'A. Analyst', 'brought in twice')`,
  sql`INSERT INTO calibrations (name, number, document_json, document_sha256, origin, added_at)
    VALUES ('mine', 1, '{}', ${HASH}, 'published', ${NOW})`,
  sql`INSERT INTO calibration_choices (calibration_id, chosen_at, chosen_by, reason) VALUES (1, ${NOW}, 'P. Ublisher', '')`,
  sql`INSERT INTO recomputes (calibration_id, calibration, started_at, completed_at, asked_by, left_json)
    VALUES (1, 'mine 1', ${NOW}, ${NOW}, 'P. Ublisher', '[]')`,
  sql`INSERT INTO assessments (visit_id, created_at, program, verdict, decisions_json, settings_json, inputs_json, inputs_sha256,
      result_json, summary_json, basis_id, recompute_id)
    VALUES (1, ${NOW}, 'p', 'withheld', '[]', '{}', '{}', ${HASH}, '{"text":"a\u00e9\ud83c\udf32 \\n"}', '{}', 1, 1)`,
  sql`INSERT INTO requirement_profiles (name, number, profile_json, author, kept_at) VALUES ('line 4', 1, '{}', 'A. Analyst', ${NOW})`,
  sql`INSERT INTO profile_choices (pole_id, profile_id, chosen_at, chosen_by) VALUES (1, 1, ${NOW}, 'A. Analyst')`,
  sql`INSERT INTO lessons (lesson_json, changed_at) VALUES ('{"title":"first"}', ${NOW})`,
  ...[1, 2].map(
    (i) => sql`INSERT INTO quiz_scores (trainee, graded_at, lesson_title, lesson_sha256, grading_json)
      VALUES (${`trainee ${i}`}, ${NOW}, 'first', ${HASH}, '{}')`,
  ),
];

/** Fills every table of a workspace; one lesson was changed since, and the last score is gone. */
export async function fillEveryTable<S extends Store>(store: S): Promise<S> {
  await fillForProof(store);
  await importVisit(store, makeSource(makeVisitFile('TV-9'), { 'TV-9.csv': makeCsv(1, LONG_S) }));
  for (const row of ROWS) await change(store, (db) => row.execute(db));
  await change(store, (db) => sql`UPDATE lessons SET lesson_json = '{"title":"second"}'`.execute(db));
  await change(store, (db) => sql`DELETE FROM quiz_scores WHERE score_id = 2`.execute(db));
  await store.db.transaction().execute(async (db) => {
    await sql`INSERT INTO kept_choices VALUES ('view', '{"wide":true}', ${NOW})`.execute(db);
    await sql`INSERT INTO draft_recordings VALUES ('d', 'one.wav', ${HASH}, ${Buffer.from('RIFF')}, ${NOW})`.execute(
      db,
    );
  });
  return store;
}

/** Adds poles, each with an entry of its own: enough of them are moved in several changes. */
export async function addPoles(store: Store, count: number, from = 0): Promise<void> {
  for (let i = from; i < from + count; i++) {
    await change(store, (db) =>
      db
        .insertInto('poles')
        .values({ code: `P-${i}`, first_seen_at: NOW })
        .execute(),
    );
  }
}

async function change({ db }: Store, work: (db: Kysely<Tables>) => Promise<unknown>): Promise<void> {
  await db.transaction().execute(async (transaction) => {
    await work(transaction);
    await appendTrail(transaction, { action: 'set', subject: 'a test' });
  });
}
