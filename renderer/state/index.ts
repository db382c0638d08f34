/*
 * State of the window: choices only (what is open, how it is shown, what the analyst decided), with undo and redo
 * on those of the bench. Whatever can be asked of the program or derived is asked or derived, never kept here.
 */

export {
  type BenchView,
  type OpenBench,
  type Placing,
  useBench,
  useBenches,
  useSettings,
  useView,
} from './benchStore.ts';
export { useChanges } from './changesStore.ts';
export { useCursor } from './cursor.ts';
export {
  decide,
  decisionFor,
  placePick,
  priorDecisionFor,
  refusalsOf,
  refuse,
  release,
  renumber,
  sameDecisions,
  strikeDecisionFor,
  withdraw,
} from './decisions.ts';
export { recallChoices, type UnderWay, useKept, useKeptBench } from './keep.ts';
export { readMirror, writeMirror } from './mirror.ts';
export { readAhead, useFitAhead } from './readAhead.ts';
export { FIRST_QUERY, type SelectedVisit, useRegister } from './registerStore.ts';
export type { BenchChoices, Range, Settings, SpectrumKind, Thought, Trail } from './trail.ts';
export { forgetTyped, useRememberedTexts, useTyped } from './typed.ts';
export { type Answer, useAnswer } from './useAnswer.ts';
export { useLatest } from './useLatest.ts';
export { useSame, useSameEach } from './useSame.ts';
export { type Place, useWindow } from './windowStore.ts';
