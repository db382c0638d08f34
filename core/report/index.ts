/**
 * The printed file: a visit's result as one self-contained HTML document for paper and screen.
 * It draws what it is given (plain arrays, a finished assessment) and computes nothing about poles.
 */
export { chooseStrikes } from './chooseStrikes.ts';
export type { HandoutBlow, HandoutInput, HandoutPictures } from './handout/handoutInput.ts';
export { renderHandout } from './handout/renderHandout.ts';
export { renderReport, renderReports } from './renderReports.ts';
export type { ReportInput, ReportRecording, ReportSpectrum } from './reportInput.ts';
