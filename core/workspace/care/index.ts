/**
 * Care: whether a workspace is whole and stands as its trail tells, its backups, and running an assessment again.
 */
export { checkWorkspace } from './checkWorkspace.ts';
export { proveWorkspace } from './proveWorkspace.ts';
