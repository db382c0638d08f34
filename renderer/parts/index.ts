/*
 * Parts that every place uses: panels, words while waiting, errors in words, a table behind each plot, marks of
 * shape for planes and verdicts.
 */
export { Cautions } from './Cautions.tsx';
export type { DataTableContent } from './DataTable.tsx';
export { ErrorBoundary } from './ErrorBoundary.tsx';
export { ErrorNote } from './ErrorNote.tsx';
export { NoticeStrip } from './NoticeStrip.tsx';
export { NumberField } from './NumberField.tsx';
export { Panel } from './Panel.tsx';
export { PlaneMark } from './PlaneMark.tsx';
export { RangeFields } from './RangeFields.tsx';
export { readBase64 } from './readBase64.ts';
export { type NumberLimits, readNumber } from './readNumber.ts';
export { ScrollRegion } from './ScrollRegion.tsx';
export { saveFile } from './saveFile.ts';
export { PaletteFromScheme, usePalette } from './usePalette.tsx';
export { VerdictMark } from './VerdictMark.tsx';
export { Waiting } from './Waiting.tsx';
export { useWrongFields, WrongFieldsContext } from './wrongFields.ts';
