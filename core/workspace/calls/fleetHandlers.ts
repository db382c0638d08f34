import type { fleetCalls } from '../contract/fleetCalls.ts';
import { countFleet, hasQueue } from '../fleet/index.ts';
import type { HandlersOf } from '../handlers.ts';
import type { Store } from '../store.ts';

export function createFleetHandlers(store: Store): HandlersOf<typeof fleetCalls> {
  return {
    'fleet.progress': async () => ({
      fleet: store.kind === 'team' && (await hasQueue(store)) ? await countFleet(store) : null,
    }),
  };
}
