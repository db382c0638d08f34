/**
 * The team store: the same tables as in a workspace file, in a PostgreSQL database. The trail, what is written once and who may do
 * what are held by the database itself.
 */
export { checkTeamForm } from './checkTeamForm.ts';
export { openTeamStore, type TeamStore } from './openTeamStore.ts';
export { isTeamPlace, nameTeamPlace, withoutPassword } from './place.ts';
export { type Prepared, prepareTeamStore } from './prepareTeamStore.ts';
export { type Right, ROLES } from './roles.ts';
export { toTeamError } from './teamErrors.ts';
