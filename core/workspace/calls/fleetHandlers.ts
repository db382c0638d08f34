import type { fleetCalls } from '../contract/fleetCalls.ts';
// not by the room's door: its workers need the desk, which is built over these handlers
import { countFleet, hasQueue } from '../fleet/countFleet.ts';
import type { HandlersOf } from '../handlers.ts';
import type { Store } from '../store.ts';

export function createFleetHandlers(store: Store): HandlersOf<typeof fleetCalls> {
  return {
    'fleet.progress': async () => ({
      fleet: store.kind === 'team' && (await hasQueue(store)) ? await countFleet(store) : null,
    }),
  };
}
