/**
 * Signal: from samples to spectra and judged strikes. Windows, spectra and the spectrogram with their scaling
 * stated, the strikes of a recording with their ring-downs, and the checks that say whether a strike can be
 * used.
 */
export type { Check, CheckId } from './checks/check.ts';
export { CHECK_LIMITS } from './checks/limits.ts';
export { combineSpectra } from './combineSpectra.ts';
export { computeAmplitudeSpectrum } from './computeAmplitudeSpectrum.ts';
export { computeMultitaperPsd } from './computeMultitaperPsd.ts';
export { computePsd } from './computePsd.ts';
export { computeSpectrogram } from './computeSpectrogram.ts';
export { computeZoomSpectrum } from './computeZoomSpectrum.ts';
export { correctDampingForWindow } from './correctDampingForWindow.ts';
export { decimate } from './decimate.ts';
export { findStrikes } from './findStrikes.ts';
export { judgeStrike, type StrikeJudgement } from './judgeStrike.ts';
export { judgeVisit, type VisitJudgement } from './judgeVisit.ts';
export type { FaultMark } from './marks/faultMark.ts';
export { markFaults } from './marks/markFaults.ts';
export { pickRank } from './pickRank.ts';
export { removeDrift } from './removeDrift.ts';
export { spreadLogarithmically } from './spreadLogarithmically.ts';
export { chooseTransformSize, transformReal } from './transformReal.ts';
export { transformZoomed } from './transformZoomed.ts';
export { buildWindow, computeNoiseBandwidthBins, WINDOW_KINDS, type WindowKind } from './windows.ts';
