import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import { openStore } from '../../core/workspace/index.ts';
import { makeFolder } from './visitFixture.ts';

const WRITER = fileURLToPath(new URL('./importWithoutEnd.ts', import.meta.url));
const ENOUGH = 5;

/** Imports visits in another process and kills it, without warning, in the midst of its work. */
async function importAndKill(path: string): Promise<number> {
  const writer = spawn(process.execPath, [WRITER, path], { stdio: ['ignore', 'pipe', 'inherit'] });
  let told = 0;
  for await (const line of createInterface({ input: writer.stdout })) {
    told = Number(line);
    if (told === ENOUGH) writer.kill('SIGKILL');
  }
  return told;
}

describe('a workspace whose writer was killed', () => {
  it('holds every visit that it told of, each whole', async () => {
    const path = join(makeFolder(), 'a.stemroot');
    const told = await importAndKill(path);
    expect(told).toBeGreaterThanOrEqual(ENOUGH);
    await openStore(path).close();
    const database = new Database(path);
    expect(database.pragma('integrity_check', { simple: true })).toBe('ok');
    expect(database.pragma('foreign_key_check')).toEqual([]);
    const visits = database.prepare('SELECT count(*) FROM visits').pluck().get() as number;
    expect(visits).toBeGreaterThanOrEqual(told);
    expect(database.prepare('SELECT count(*) FROM visit_recordings').pluck().get()).toBe(2 * visits);
    database.close();
  });
});
