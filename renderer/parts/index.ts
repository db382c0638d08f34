/*
 * Parts that every place uses: panels, words while waiting, errors in words, a table behind each plot, marks of
 * shape for planes and verdicts.
 */
export { Cautions } from './Cautions.tsx';
export type { DataTableContent } from './DataTable.tsx';
export { ErrorBoundary } from './ErrorBoundary.tsx';
export { ErrorNote } from './ErrorNote.tsx';
export { NoticeStrip } from './NoticeStrip.tsx';
export { Panel } from './Panel.tsx';
export { PlaneMark } from './PlaneMark.tsx';
export { ScrollRegion } from './ScrollRegion.tsx';
export { usePalette } from './usePalette.ts';
export { VerdictMark } from './VerdictMark.tsx';
export { Waiting } from './Waiting.tsx';
