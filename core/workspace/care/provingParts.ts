import { hashSha256 } from '../../hashSha256.ts';
import { unpackRecording } from '../compression.ts';
import type { Tables } from '../tables.ts';
import type { ChainReport, RowDifference } from '../trail/index.ts';

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

type EvidenceCheck = {
  /** Looks at the next row of a table; those of others than recordings and visits are passed by. */
  take(table: string, row: Readonly<Record<string, unknown>>): void;
  readonly faults: string[];
  readonly counted: { recordings: number; visits: number };
};

/** Whether the bytes of recordings and visit files are those that were imported, row by row. */
export function createEvidenceCheck(): EvidenceCheck {
  const faults: string[] = [];
  const counted = { recordings: 0, visits: 0 };
  return {
    faults,
    counted,
    take(table, row) {
      if (table === 'recordings') {
        counted.recordings++;
        const { sha256, size_bytes, ...packed } = row as Tables['recordings'];
        const bytes = unpackRecording({ ...packed, size_bytes });
        if (!bytes || bytes.length !== size_bytes || hashSha256(bytes) !== sha256) {
          faults.push(`Recording ${sha256} is not what was imported.`);
        }
      } else if (table === 'visits') {
        counted.visits++;
        const { visit_id, file_name, file_bytes, file_sha256 } = row as Omit<Tables['visits'], 'visit_id'> & {
          visit_id: number;
        };
        if (hashSha256(file_bytes) !== file_sha256) {
          faults.push(`The file ${file_name} of visit ${visit_id} is not what was imported.`);
        }
      }
    },
  };
}

/** Puts together what was found. */
export function concludeProof(found: {
  form: string[];
  chain: ChainReport;
  differences: readonly RowDifference[];
  evidence: EvidenceCheck;
}): Proof {
  const { form, chain, evidence } = found;
  const rows = found.differences.map(describeDifference);
  const faults = [form, chain.faults, rows, evidence.faults];
  return {
    holds: faults.every((each) => each.length === 0) && chain.known !== false,
    chain,
    rows,
    evidence: evidence.faults,
    ...evidence.counted,
    form,
  };
}

function describeDifference({ table, key, kind, toldBy }: RowDifference): string {
  const row = `${table} ${key}`;
  if (kind === 'added') return `${row}: was added past the trail.`;
  return `${row}: ${kind === 'changed' ? 'was changed' : 'is missing'}; entry ${toldBy} told of it last.`;
}
