/*
 * Bringing in: visit files and their recordings, chosen or dropped, sent to the program visit by visit, with the
 * outcome of each in words.
 */
export { ImportDialog } from './ImportDialog.tsx';
