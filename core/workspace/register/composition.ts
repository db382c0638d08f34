/**
 * How rows are composed. To be raised with every change of what a row has, how it is ranked, sorted or found: stored rows
 * of an earlier program are then computed anew, once.
 */
export const COMPOSITION = 8;
