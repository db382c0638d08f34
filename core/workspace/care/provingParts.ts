import { createHash } from 'node:crypto';
import { hashSha256 } from '../../hashSha256.ts';
import { RECORDING_LIMITS } from '../../recording/index.ts';
import { unpackPiece } from '../compression.ts';
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

export type FurtherPiece = Pick<Tables['recording_pieces'], 'compressed_bytes'>;

type EvidenceCheck = {
  /** Looks at the next row of a table; those of others than recordings and visits are passed by. @param further - further pieces of a recording, in their order */
  take(table: string, row: Readonly<Record<string, unknown>>, further?: readonly FurtherPiece[]): void;
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
    take(table, row, further = []) {
      if (table === 'recordings') {
        counted.recordings++;
        const recording = row as Tables['recordings'];
        if (!isAsImported(recording, further)) {
          faults.push(`Recording ${recording.sha256} is not what was imported.`);
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

function isAsImported(first: Tables['recordings'], further: readonly FurtherPiece[]): boolean {
  const { encoding, size_bytes, sha256 } = first;
  const hash = createHash('sha256');
  let left = size_bytes;
  const take = ({ compressed_bytes }: FurtherPiece) => {
    const piece = unpackPiece(encoding, compressed_bytes, Math.min(left, RECORDING_LIMITS.largestFileBytes));
    if (piece) hash.update(piece);
    left -= piece?.length ?? 0;
    return piece !== undefined;
  };
  return [first, ...further].every(take) && left === 0 && hash.digest('hex') === sha256;
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
