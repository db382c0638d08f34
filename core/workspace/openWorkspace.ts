import { openStore, type Store } from './store.ts';
import type { OpenOptions } from './storeCommon.ts';
import { isTeamPlace, openTeamStore } from './team/index.ts';

/**
 * Opens a workspace wherever it is kept.
 * @param place - a `*.stemroot` file, or the connection string of a team store
 * @throws StoreError from {@link openStore} or {@link openTeamStore}
 */
export async function openWorkspace(place: string, options: OpenOptions = {}): Promise<Store> {
  return isTeamPlace(place) ? openTeamStore(place, options) : openStore(place, options);
}
