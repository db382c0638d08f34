/**
 * Care: whether a workspace is whole and stands as its trail tells, its backups, and running an assessment again.
 */
export { type Backup, backUp } from './backUp.ts';
export { backupFolder } from './backupName.ts';
export { checkWorkspace } from './checkWorkspace.ts';
export { inspectBackup } from './inspectBackup.ts';
export { listBackups } from './listBackups.ts';
export { openForCare } from './openForCare.ts';
export { proveTeamStore } from './proveTeamStore.ts';
export { proveWorkspace } from './proveWorkspace.ts';
export type { Proof } from './provingParts.ts';
export { repeatVisit } from './repeatVisit.ts';
export { type Restored, restore } from './restore.ts';
