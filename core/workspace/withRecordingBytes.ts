import type { Kysely } from 'kysely';
import { StoreError } from '../errors.ts';
import { giveBackMemory } from '../giveBackMemory.ts';
import { hashSha256 } from '../hashSha256.ts';
import { RECORDING_LIMITS } from '../recording/index.ts';
import { unpackPiece } from './compression.ts';
import type { Tables } from './tables.ts';

type Db = Kysely<Tables>;

/** Memory that is kept from one long recording for the next; some minutes of two channels at 48 kHz take less. */
const MOST_KEPT_BYTES = 64 * 1024 ** 2;
let kept: Uint8Array = new Uint8Array();

/**
 * Has the original bytes of a recording looked at. They are there for as long as `use` runs: the next recording takes their place.
 * @throws StoreError `store.damaged` where they are not the bytes that were imported
 */
export async function withRecordingBytes<T>(
  db: Db,
  sha256: string,
  use: (bytes: Uint8Array) => T,
): Promise<T> {
  const row = await db
    .selectFrom('recordings')
    .select(['encoding', 'compressed_bytes', 'size_bytes'])
    .where('sha256', '=', sha256)
    .executeTakeFirst();
  const unfolded = row && (await unfold(db, sha256, row));
  if (!unfolded || hashSha256(unfolded.bytes) !== sha256) {
    throw new StoreError(
      'store.damaged',
      `The recording ${sha256.slice(0, 12)} in the workspace is not what was imported.`,
      'Restore the workspace from a backup, or import the visit into a new one.',
    );
  }
  try {
    return use(unfolded.bytes);
  } finally {
    unfolded.giveBack();
  }
}

type FirstPiece = Pick<Tables['recordings'], 'encoding' | 'compressed_bytes' | 'size_bytes'>;
type Unfolded = { readonly bytes: Uint8Array; giveBack(): void };

/** Undefined where they do not unfold, or into more or less than was stored. */
async function unfold(db: Db, sha256: string, first: FirstPiece): Promise<Unfolded | undefined> {
  const { encoding, compressed_bytes, size_bytes } = first;
  const mostBytes = Math.min(size_bytes, RECORDING_LIMITS.largestFileBytes);
  const whole = unpackPiece(encoding, compressed_bytes, mostBytes);
  giveBackMemory(compressed_bytes);
  if (whole?.length === size_bytes) return { bytes: whole, giveBack: () => giveBackMemory(whole) };
  const memory = takeMemory(mostBytes);
  let piece = whole;
  for (let position = 1, filled = 0; piece; position++) {
    memory.set(piece, filled);
    filled += piece.length;
    giveBackMemory(piece);
    if (filled === mostBytes)
      return { bytes: memory.subarray(0, filled), giveBack: () => keepMemory(memory) };
    const next = await db
      .selectFrom('recording_pieces')
      .select('compressed_bytes')
      .where('sha256', '=', sha256)
      .where('position', '=', position)
      .executeTakeFirst();
    piece = next && unpackPiece(encoding, next.compressed_bytes, mostBytes - filled);
    if (next) giveBackMemory(next.compressed_bytes);
  }
  return undefined;
}

/** Whoever has the memory that is kept has it alone. */
function takeMemory(length: number): Uint8Array {
  const memory = kept.length >= length ? kept : new Uint8Array(length);
  if (memory === kept) kept = new Uint8Array();
  return memory;
}

function keepMemory(memory: Uint8Array): void {
  if (memory.length > kept.length && memory.length <= MOST_KEPT_BYTES) kept = memory;
}
