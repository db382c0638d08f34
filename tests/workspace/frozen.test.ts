import Database from 'better-sqlite3';
import { describe, expect, it, vi } from 'vitest';
import { callService } from '../../core/workspace/index.ts';

import { makeWorkspace } from './visitFixture.ts';

vi.mock('../../core/assess.ts', async () => (await import('./fakeChain.ts')).fakeChain);

const FROZEN = [
  ['visits', 'file_name'],
  ['recordings', 'size_bytes'],
  ['visit_recordings', 'file_name'],
  ['assessments', 'verdict'],
  ['rulings', 'reason'],
] as const;

/** Each with one row, opened by SQLite alone and with none of the program's settings. */
async function makeFilled() {
  const { store, handlers, visitId } = await makeWorkspace();
  await callService(handlers, 'visit.assess', { visitId, decisions: [] });
  await callService(handlers, 'visit.rule', {
    visitId,
    assessmentId: 1,
    analyst: 'A',
    decision: 'watch',
    reason: 'soft root',
  });
  return new Database(store.path);
}

describe.each(FROZEN)('%s', (table, column) => {
  it('is never changed, deleted or replaced', async () => {
    const database = await makeFilled();
    const before = database.prepare(`SELECT * FROM ${table}`).all();
    expect(before).toHaveLength(1);
    expect(() => database.exec(`UPDATE ${table} SET ${column} = ${column}`)).toThrow(/never changed/);
    expect(() => database.exec(`DELETE FROM ${table}`)).toThrow(/never deleted/);
    expect(() => database.exec(`INSERT OR REPLACE INTO ${table} SELECT * FROM ${table}`)).toThrow(
      /never replaced/,
    );
    expect(database.prepare(`SELECT * FROM ${table}`).all()).toEqual(before);
    database.close();
  });
});

describe('rulings', () => {
  it('cannot name an assessment of another visit', async () => {
    const database = await makeFilled();
    database.pragma('foreign_keys = ON');
    const insert = (assessmentId: number) =>
      database.exec(
        `INSERT INTO rulings (visit_id, assessment_id, decided_at, analyst, decision, reason)
         VALUES (1, ${assessmentId}, '2026-05-03', 'A', 'keep', 'sound')`,
      );
    expect(() => insert(2)).toThrow(/FOREIGN KEY/);
    expect(() => insert(1)).not.toThrow();
    database.close();
  });

  it('have a reason, an analyst and a known decision', async () => {
    const database = await makeFilled();
    const insert = (analyst: string, decision: string, reason: string) =>
      database
        .prepare(
          `INSERT INTO rulings (visit_id, decided_at, analyst, decision, reason) VALUES (1, '', ?, ?, ?)`,
        )
        .run(analyst, decision, reason);
    expect(() => insert('A', 'keep', '  ')).toThrow(/CHECK/);
    expect(() => insert('', 'keep', 'sound')).toThrow(/CHECK/);
    expect(() => insert('A', 'climb', 'sound')).toThrow(/CHECK/);
    database.close();
  });
});
