import { existsSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import Database from 'better-sqlite3';
import { checkWorkspace, inspectBackup, proveWorkspace } from '../../core/workspace/care/index.ts';
import { backupFolder, listBackups, openStore } from '../../core/workspace/index.ts';
import type { Acknowledged } from './jobs.ts';

/** What is wrong after a kill, in words: the workspace does not open, is not whole, or lacks what was told to be stored. */
export async function verify(workspace: string, told: readonly Acknowledged[]): Promise<string[]> {
  const problems = await verifyFile(workspace);
  const database = new Database(workspace, { readonly: true });
  try {
    for (const done of told) if (!isThere(database, done)) problems.push(`lost: ${JSON.stringify(done)}`);
    const halfVisits = database
      .prepare('SELECT visit_id FROM visits WHERE visit_id NOT IN (SELECT visit_id FROM visit_recordings)')
      .pluck()
      .all();
    if (halfVisits.length > 0) problems.push(`visits without recordings: ${halfVisits}`);
    for (const { id, recomputed } of listRecomputes(database)) {
      const stored = countResults(database, id);
      if (stored !== recomputed) problems.push(`recompute ${id} has ${stored} results of ${recomputed}`);
    }
  } finally {
    database.close();
  }
  for (const path of listBackups(workspace, backupFolder(workspace))) {
    if (inspectBackup(path)?.holds !== true) problems.push(`${path} is no whole backup`);
  }
  for (const name of readdirSync(dirname(workspace)).filter((file) => /^old-.*\.stemroot$/.test(file))) {
    problems.push(...(await verifyFile(join(dirname(workspace), name))));
  }
  return problems;
}

/** Recomputes with the number of results that the trail tells each of. */
function listRecomputes(database: Database.Database): { id: number; recomputed: number }[] {
  return database
    .prepare(
      `SELECT after_json ->> '$.recomputeId' AS id, after_json ->> '$.recomputed' AS recomputed
       FROM trail WHERE action = 'recompute'`,
    )
    .all() as { id: number; recomputed: number }[];
}

function countResults(database: Database.Database, recomputeId: number): unknown {
  return database.prepare('SELECT count(*) FROM assessments WHERE recompute_id = ?').pluck().get(recomputeId);
}

async function verifyFile(path: string): Promise<string[]> {
  const store = openStore(path);
  try {
    const proof = proveWorkspace(store.database);
    return [
      ...(store.readOnly ? [`${path}: ${store.readOnly.message}`] : []),
      ...checkWorkspace(store.database).faults,
      ...proof.form,
      ...proof.chain.faults,
      ...proof.rows,
      ...proof.evidence,
    ];
  } finally {
    await store.close();
  }
}

function isThere(database: Database.Database, done: Acknowledged): boolean {
  const count = (sql: string, ...values: unknown[]) =>
    database
      .prepare(sql)
      .pluck()
      .get(...values) as number;
  switch (done.job) {
    case 'import':
      return (
        count(
          'SELECT count(*) FROM visits JOIN poles USING (pole_id) WHERE visit_id = ? AND code = ?',
          done.visitId,
          done.poleId,
        ) === 1
      );
    case 'assess':
      return (
        count(
          'SELECT count(*) FROM assessments WHERE assessment_id = ? AND visit_id = ?',
          done.assessmentId,
          done.visitId,
        ) === 1
      );
    case 'rule':
      return (
        count(
          'SELECT count(*) FROM rulings WHERE ruling_id = ? AND reason = ?',
          done.rulingId,
          done.reason,
        ) === 1
      );
    case 'recompute':
      return (
        count('SELECT count(*) FROM assessments WHERE recompute_id = ?', done.recomputeId) === done.recomputed
      );
    case 'migrate':
      return existsSync(done.path);
    case 'backup':
      return count('SELECT count(*) FROM trail WHERE seq = ?', done.lastEntry) === 1;
  }
}
