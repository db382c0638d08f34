/*
 * State of the window: choices only (what is open, how it is shown, what the analyst decided), with undo and
 * redo on decisions. Whatever can be asked of the program or derived is asked or derived, never kept here.
 */

export { useCursor } from './cursor.ts';
export { decide, decisionFor, release, renumber, sameDecisions } from './decisions.ts';
export { type Place, type Range, type SpectrumKind, type Thought, useDecisions, useWindow } from './store.ts';
export { type Answer, useAnswer } from './useAnswer.ts';
