/**
 * The trail: who changed what, when and why. Append-only, each entry chained to the one before by SHA-256, with the hash
 * of every row that the change wrote.
 */

export { appendTrail } from './appendTrail.ts';
export { type ChainReport, checkChain } from './checkChain.ts';
export { collectEntries } from './collectEntries.ts';
export { compareRows } from './compareRows.ts';
export type { TrailAction, TrailEntry, TrailRow } from './composeEntry.ts';
export { findWriter } from './findWriter.ts';
export { hashRow, type Row } from './hashRow.ts';
export { recordEntry } from './recordEntry.ts';
export { listStrayRows, recordForms } from './recordForms.ts';
export { tellEntry } from './tellEntry.ts';
export { noteToldRows, type RowDifference, readToldRows, type ToldRows } from './toldRows.ts';
export { isTracked } from './trailTables.ts';
export { checkAllTold, watchTables } from './watchTables.ts';
