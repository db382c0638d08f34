import { sql } from 'kysely';
import { StoreError } from '../../errors.ts';
import type { Store } from '../store.ts';

/**
 * Moving is for the one who keeps a team store, the owner of its tables; a file is its user's.
 * @throws StoreError `move.notKeeper`
 */
export async function requireKeeper(store: Store): Promise<void> {
  if (store.kind === 'file') return;
  const { rows } = await sql<{ keeps: boolean }>`
    SELECT pg_has_role(nspowner, 'USAGE') AS keeps FROM pg_namespace WHERE nspname = 'stemroot'`.execute(
    store.db,
  );
  if (rows[0]?.keeps) return;
  throw new StoreError(
    'move.notKeeper',
    `Only the one who keeps ${store.path} may move it, or move something into it.`,
    'Ask the keeper, the owner of its tables, to do it.',
  );
}
