import type { Kysely } from 'kysely';
import { hashSha256 } from '../../hashSha256.ts';
import type { Tables } from '../tables.ts';

type Db = Kysely<Tables>;

/** Attaches a recording to a visit that is being written down; one of the same name takes its place. */
export async function attachRecording(
  db: Db,
  draft: string,
  fileName: string,
  bytes: Uint8Array,
): Promise<void> {
  const kept = { sha256: hashSha256(bytes), bytes, attached_at: new Date().toISOString() };
  await db
    .insertInto('draft_recordings')
    .values({ draft, file_name: fileName, ...kept })
    .onConflict((conflict) => conflict.columns(['draft', 'file_name']).doUpdateSet(kept))
    .execute();
}

/** Names and hashes of what is attached, in the order in which it came. */
export function listAttached(db: Db, draft: string): Promise<{ file_name: string; sha256: string }[]> {
  return db
    .selectFrom('draft_recordings')
    .select(['file_name', 'sha256'])
    .where('draft', '=', draft)
    .orderBy('attached_at')
    .orderBy('file_name')
    .execute();
}

export async function getAttachedBytes(
  db: Db,
  draft: string,
  fileName: string,
): Promise<Uint8Array | undefined> {
  const row = await db
    .selectFrom('draft_recordings')
    .select('bytes')
    .where('draft', '=', draft)
    .where('file_name', '=', fileName)
    .executeTakeFirst();
  return row?.bytes;
}

/** Takes one recording away, or all of them. @param fileName - undefined: all */
export async function detachRecordings(db: Db, draft: string, fileName?: string): Promise<void> {
  let query = db.deleteFrom('draft_recordings').where('draft', '=', draft);
  if (fileName !== undefined) query = query.where('file_name', '=', fileName);
  await query.execute();
}
