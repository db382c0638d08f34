// Work on a team store that any number of machines share: which visits wait, who takes which, and how far it is. The queue lies in
// the same PostgreSQL, in a schema of its own.
export { countFleet, type FleetCounts } from './countFleet.ts';
export { enqueueWaiting } from './enqueueWaiting.ts';
export { workOnFleet } from './workOnFleet.ts';
