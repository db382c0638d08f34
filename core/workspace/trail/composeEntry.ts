import { PROGRAM } from '../../program.ts';
import { currentUser } from './currentUser.ts';
import { hashRow } from './hashRow.ts';

/** What was done. Every action that changes the workspace has one entry. */
export type TrailAction =
  | 'make'
  | 'migrate'
  | 'import'
  | 'assess'
  | 'rule'
  | 'publish'
  | 'use'
  | 'recompute'
  | 'restore'
  | 'move'
  | 'set'
  | 'grade';

export type TrailEntry = {
  action: TrailAction;
  /** What it was done to, in words: `visit 12, pole KV-0417`. */
  subject: string;
  /** @default the name by which the operating system knows the user */
  who?: string;
  /** What stood before and stands now, in short; the rows themselves are hashed. @default nothing */
  before?: unknown;
  after?: unknown;
  /** Reason given by the person. @default none */
  why?: string;
};

/** A row of the table `trail`. */
export type TrailRow = {
  seq: number;
  at: string;
  who: string;
  program: string;
  action: string;
  subject: string;
  before_json: string | null;
  after_json: string | null;
  why: string | null;
  rows_json: string;
  previous_sha256: string;
  sha256: string;
};

/** A row that an entry names: table, key and hash; null: the row is gone. */
export type ToldRow = readonly [table: string, key: string, sha256: string | null];

/** Stands for the entry before the first. */
export const NO_ENTRY = { seq: 0, sha256: '0'.repeat(64) } as const;

/** Makes the next row of the trail. @param rows - every row that the change wrote */
export function composeEntry(
  entry: TrailEntry,
  rows: readonly ToldRow[],
  previous: { seq: number; sha256: string },
): TrailRow {
  const unsealed = {
    seq: previous.seq + 1,
    at: new Date().toISOString(),
    who: entry.who ?? currentUser(),
    program: PROGRAM,
    action: entry.action,
    subject: entry.subject,
    before_json: toJson(entry.before),
    after_json: toJson(entry.after),
    why: entry.why ?? null,
    rows_json: JSON.stringify(rows),
    previous_sha256: previous.sha256,
  };
  return { ...unsealed, sha256: sealOf(unsealed) };
}

/** Hash of an entry over all of its columns but the hash itself; the hash of the entry before is one of them. */
export function sealOf({ sha256: _, ...unsealed }: Omit<TrailRow, 'sha256'> & { sha256?: string }): string {
  return hashRow(unsealed);
}

function toJson(value: unknown): string | null {
  return value === undefined || value === null ? null : JSON.stringify(value);
}
