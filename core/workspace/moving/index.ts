/**
 * Moving: a workspace file into a team store and back, entry by entry of its trail, so that each entry is written with the rows
 * that it names, as when it was made; then both sides are proved and compared.
 */
export { type Moved, type MoveWatch, moveStore } from './moveStore.ts';
