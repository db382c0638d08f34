import pg from 'pg';
import { inventVisit } from './inventVisit.ts';

const VISITS_A_STATEMENT = 1000;

/**
 * Fills an empty team store with invented visits and summaries, as a workspace file is by makeLongRegister; the register is left to be
 * computed.
 * @param place - of a superuser: triggers are passed by, which would ask that the trail tells of every row
 */
export async function fillTeamStore(place: string, visits: number): Promise<void> {
  const client = new pg.Client({
    connectionString: place,
    options: '-c search_path=stemroot -c session_replication_role=replica',
  });
  await client.connect();
  try {
    for (let start = 0; start < visits; start += VISITS_A_STATEMENT) {
      const invented = Array.from({ length: Math.min(VISITS_A_STATEMENT, visits - start) }, (_, i) =>
        inventVisit(start + i),
      );
      const ids = invented.map((_, i) => start + i + 1);
      const codes = invented.map(({ code }) => code);
      const hashes = invented.map(({ sha256 }) => sha256);
      const summaries = invented.map(({ summary }) => summary);
      await client.query(
        `INSERT INTO poles (pole_id, code, first_seen_at) OVERRIDING SYSTEM VALUE
         SELECT *, '2026-05-03' FROM unnest($1::bigint[], $2::text[])`,
        [ids, codes],
      );
      await client.query(
        `INSERT INTO visits (visit_id, pole_id, file_name, measured_on, file_bytes, file_sha256, contents_sha256, imported_at)
         OVERRIDING SYSTEM VALUE
         SELECT id, id, code, date, file, sha256, sha256, '2026-05-03'
         FROM unnest($1::bigint[], $2::text[], $3::text[], $4::bytea[], $5::text[]) AS invented (id, code, date, file, sha256)`,
        [ids, codes, invented.map(({ date }) => date), invented.map(({ file }) => file), hashes],
      );
      await client.query(
        `INSERT INTO assessments (assessment_id, visit_id, created_at, program, verdict, decisions_json, settings_json,
           inputs_json, inputs_sha256, result_json, summary_json) OVERRIDING SYSTEM VALUE
         SELECT id, id, '2026-05-03', 'bench', verdict, '[]', '{}', '{}', sha256, '{}', summary
         FROM unnest($1::bigint[], $2::text[], $3::text[], $4::text[]) AS invented (id, verdict, sha256, summary)`,
        [
          ids,
          summaries.map(({ verdict }) => verdict),
          hashes,
          summaries.map((summary) => JSON.stringify(summary)),
        ],
      );
    }
    await client.query('INSERT INTO register_stale SELECT pole_id FROM poles');
    for (const [table, column] of [
      ['poles', 'pole_id'],
      ['visits', 'visit_id'],
      ['assessments', 'assessment_id'],
    ]) {
      await client.query(`SELECT setval(pg_get_serial_sequence('${table}', '${column}'), ${visits} + 1)`);
    }
    await client.query('ANALYZE');
  } finally {
    await client.end();
  }
}
