/*
 * Reports: files made of one visit, of those that were chosen, or of all that the register shows.
 */
export { ReportDialog } from './ReportDialog.tsx';
export { useReports } from './useReports.ts';
