import { StoreError } from '../errors.ts';
import type { FileStore, Store } from './store.ts';

/** What is done to the file of a workspace itself. @throws StoreError `store.notAFile` for a team store, which PostgreSQL's own tools look after */
export function requireFile(store: Store): FileStore {
  if (store.kind === 'file') return store;
  throw new StoreError(
    'store.notAFile',
    `${store.path} is a team store: its pages and backups are looked after by PostgreSQL.`,
    'Back it up with pg_dump; docs/team-store.md says how.',
  );
}
