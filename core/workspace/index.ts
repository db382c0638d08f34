/**
 * Workspace: what is kept. The file with poles, visits, recordings, assessments and rulings, and the application's
 * services behind every call of the contract. The only room that knows the database.
 */
export type { BroughtIn } from './batch.ts';
export { callService } from './callService.ts';
export {
  backUp,
  backupFolder,
  listBackups,
  openForCare,
  restore,
} from './care/index.ts';
export * from './contract.ts';
export { type AnswerCall, type Desk, openDesk } from './desk.ts';
export { readExportRows, writeCsv, writeGeoJson, writeParquet } from './exports/index.ts';
export { countFleet, enqueueWaiting, type FleetCounts, workOnFleet } from './fleet/index.ts';
export type { Handlers, ShelfHandlers } from './handlers.ts';
export { type ImportOutcome, importVisit, type VisitSource } from './importVisit.ts';
export { moveStore } from './moving/index.ts';
export type { Notice } from './opening/index.ts';
export { openWorkspace } from './openWorkspace.ts';
export { gatherReport } from './reports/gatherReport.ts';
export { type PrintPdf, withPrinter } from './reports/withPrinter.ts';
export { requireWritable } from './requireWritable.ts';
export { createWorkspaceService } from './service.ts';
export { type FileStore, openStore, type Store } from './store.ts';
export {
  isTeamPlace,
  nameTeamPlace,
  openTeamStore,
  type Prepared,
  prepareTeamStore,
  ROLES,
  type TeamStore,
  withoutPassword,
} from './team/index.ts';
export { WORKSPACE_ENDING } from './workspaceEnding.ts';
