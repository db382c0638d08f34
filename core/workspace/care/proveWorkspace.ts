import type Database from 'better-sqlite3';
import { findStrangeItem, readForm } from '../opening/index.ts';
import { checkChain, compareRows, type TrailRow } from '../trail/index.ts';
import { concludeProof, createEvidenceCheck, type FurtherPiece, type Proof } from './provingParts.ts';

/**
 * Proves that a workspace stands as its trail tells: the chain of entries, the hash of every row, and SHA-256 of every
 * recording and visit file. Who can write the file and has this program could also write the trail anew; a hash noted down
 * elsewhere (`known`) shows that.
 */
export function proveWorkspace(
  database: Database.Database,
  options: { known?: string | undefined } = {},
): Proof {
  // one transaction: all is seen as of one moment, also while others write
  return database.transaction(() => prove(database, options))();
}

function prove(database: Database.Database, options: { known?: string | undefined }): Proof {
  const strange = findStrangeItem(database, readForm(database));
  const form = strange === null ? [] : [`"${strange}" is missing, changed or not of this program.`];
  const chain = checkChain(options);
  const entries = database.prepare('SELECT * FROM main.trail ORDER BY seq').iterate();
  for (const entry of entries as Iterable<TrailRow>) chain.take(entry);
  const evidence = createEvidenceCheck();
  const readFurther = prepareFurther(database);
  for (const table of ['recordings', 'visits'] as const) {
    const rows = database.prepare(`SELECT * FROM main.${table}`).iterate();
    for (const row of rows as Iterable<Record<string, unknown>>)
      evidence.take(table, row, table === 'recordings' ? readFurther(row.sha256) : []);
  }
  return concludeProof({ form, chain: chain.tell(), differences: [...compareRows(database)], evidence });
}

/** Reads the further pieces of a recording; in forms before there were any, none. */
function prepareFurther(database: Database.Database): (sha256: unknown) => FurtherPiece[] {
  const isThere = database.prepare("SELECT 1 FROM main.sqlite_schema WHERE name = 'recording_pieces'").get();
  if (!isThere) return () => [];
  const further = database.prepare(
    'SELECT compressed_bytes FROM main.recording_pieces WHERE sha256 = ? ORDER BY position',
  );
  return (sha256) => further.all(sha256) as FurtherPiece[];
}
