import type Database from 'better-sqlite3';
import { type PackedRecording, unpackRecording } from '../compression.ts';
import { hashSha256 } from '../hashes.ts';
import { findStrangeItem, readForm } from '../opening/index.ts';
import { type ChainReport, checkChain, compareRows, type RowDifference } from '../trail/index.ts';

export type Proof = {
  /** Nothing was found. */
  holds: boolean;
  chain: ChainReport;
  /** Rows that do not stand as the trail told, in words that name table and key. */
  rows: string[];
  /** Recordings and visit files whose bytes are not those that were imported. */
  evidence: string[];
  recordings: number;
  visits: number;
  /** Tables or triggers that are not as this program makes them. */
  form: string[];
};

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
  const chain = checkChain(database, options);
  const rows = [...compareRows(database)].map(describeDifference);
  const { faults: evidence, recordings, visits } = checkEvidence(database);
  const faults = [form, chain.faults, rows, evidence];
  return {
    holds: faults.every((found) => found.length === 0) && chain.known !== false,
    chain,
    rows,
    evidence,
    recordings,
    visits,
    form,
  };
}

function describeDifference({ table, key, kind, toldBy }: RowDifference): string {
  const row = `${table} ${key}`;
  if (kind === 'added') return `${row}: was added past the trail.`;
  return `${row}: ${kind === 'changed' ? 'was changed' : 'is missing'}; entry ${toldBy} told of it last.`;
}

function checkEvidence(database: Database.Database) {
  const faults: string[] = [];
  let recordings = 0;
  const keys = database
    .prepare('SELECT sha256 FROM main.recordings ORDER BY sha256')
    .pluck()
    .all() as string[];
  const select = database.prepare(
    'SELECT encoding, compressed_bytes, size_bytes FROM main.recordings WHERE sha256 = ?',
  );
  for (const sha256 of keys) {
    const row = select.get(sha256) as PackedRecording;
    const bytes = unpackRecording(row);
    if (!bytes || bytes.length !== row.size_bytes || hashSha256(bytes) !== sha256) {
      faults.push(`Recording ${sha256} is not what was imported.`);
    }
    recordings++;
  }
  let visits = 0;
  const files = database
    .prepare('SELECT visit_id, file_name, file_bytes, file_sha256 FROM main.visits')
    .iterate();
  for (const row of files as Iterable<{
    visit_id: number;
    file_name: string;
    file_bytes: Uint8Array;
    file_sha256: string;
  }>) {
    if (hashSha256(row.file_bytes) !== row.file_sha256) {
      faults.push(`The file ${row.file_name} of visit ${row.visit_id} is not what was imported.`);
    }
    visits++;
  }
  return { faults, recordings, visits };
}
