/**
 * Modal: from ring-downs to natural frequencies and damping of each bending plane, with standard deviations.
 * Peaks propose, a parametric fit of the free decay measures, strikes and planes are fused, and every
 * candidate is taken or refused with a reason.
 */
export { type DecayDamping, type DecayOptions, estimateDampingDecay } from './estimateDampingDecay.ts';
export { estimateDampingHalfPower, type HalfPowerDamping } from './estimateDampingHalfPower.ts';
export { findPeaks, type Peak, type PeakOptions } from './findPeaks.ts';
export { type FittedPole, fitPoles, type PoleFit } from './fitPoles.ts';
export { type IdentifyOptions, identifyModes } from './identifyModes.ts';
export { prepareBand } from './prepareBand.ts';
export { refineMode } from './refineMode.ts';
export type { ResponseLines } from './responseLines.ts';
export type { MeasuredValue, ModeCandidate, StrikeSegment } from './strikeSegment.ts';
