import Database from 'better-sqlite3';
import { openStore } from '../../core/workspace/index.ts';
import { inventVisit } from '../growth/inventVisit.ts';

/**
 * Fills a workspace with invented visits and summaries, without recordings or results: all that a register reads.
 * @param path - of a file that is not there yet
 */
export async function makeLongRegister(path: string, visits: number): Promise<void> {
  await openStore(path, { create: true }).close();
  const database = new Database(path);
  const addPole = database.prepare(`INSERT INTO poles (code, first_seen_at) VALUES (?, '2026-05-03')`);
  const addVisit = database.prepare(
    `INSERT INTO visits (pole_id, file_name, measured_on, file_bytes, file_sha256, contents_sha256, imported_at)
     VALUES (?, ?, ?, ?, ?, ?, '2026-05-03')`,
  );
  const addResult = database.prepare(
    `INSERT INTO assessments (visit_id, created_at, program, verdict, decisions_json, settings_json, inputs_json,
       inputs_sha256, result_json, summary_json)
     VALUES (?, '2026-05-03', 'bench', ?, '[]', '{}', '{}', ?, '{}', ?)`,
  );
  database.transaction(() => {
    for (let i = 0; i < visits; i++) {
      const { code, date, file, sha256, summary } = inventVisit(i);
      const { lastInsertRowid: pole } = addPole.run(code);
      const { lastInsertRowid: visit } = addVisit.run(pole, `${code}.visit.json`, date, file, sha256, sha256);
      addResult.run(visit, summary.verdict, sha256, JSON.stringify(summary));
    }
  })();
  database.close();
}
