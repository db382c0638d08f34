/**
 * Three worker processes on a real PostgreSQL, one killed midway: every visit assessed exactly once, the same bytes as one machine
 * gives. Run: npm run test:fleet -- [visits]
 */
import { deepStrictEqual } from 'node:assert';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { prepareTeamStore } from '../../core/workspace/index.ts';
import { findPostgres, startPostgres } from '../team/startPostgres.ts';
import { killOneOfThree } from './killOneOfThree.ts';

const visits = Number(process.argv[2] ?? 2000);
const programs = findPostgres();
if (programs === null) throw new Error('PostgreSQL is not installed (Debian: postgresql).');
const server = await startPostgres(programs);
const folder = mkdtempSync(join(tmpdir(), 'stemroot-fleet-'));
try {
  await prepareTeamStore(server.admin);
  const { fleet, single, enqueuedAgain, givenUp, lost } = await killOneOfThree(
    server.admin,
    join(folder, 'alone.stemroot'),
    visits,
  );
  deepStrictEqual([fleet.length, single.length, enqueuedAgain, givenUp], [visits, visits, 0, 0]);
  deepStrictEqual(fleet, single);
  console.log(
    `${visits} visits, each assessed once, same bytes as one machine; ${lost} were in work when one of three workers was killed`,
  );
} finally {
  await server.stop();
  rmSync(folder, { recursive: true, force: true });
}
