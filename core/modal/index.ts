/**
 * Modal: from ring-downs to natural frequencies and damping of each principal plane, with standard deviations.
 * Peaks propose, the planes are found and turned to, a parametric fit of the free decay measures, poles that hold
 * over model orders bear witness, strikes are fused, and every candidate is taken or refused with a reason.
 */

export type { PoleStatus } from './chainPoles.ts';
export { compareDamping, type DampingComparison } from './compareDamping.ts';
export {
  computeStabilisation,
  type PoleCluster,
  type Stabilisation,
  type StabilisationOptions,
  type StabilisationPole,
} from './computeStabilisation.ts';
export { type DecayDamping, type DecayOptions, estimateDampingDecay } from './estimateDampingDecay.ts';
export { estimateDampingHalfPower, type HalfPowerDamping } from './estimateDampingHalfPower.ts';
export { findPeaks, type PeakOptions, type Peaks } from './findPeaks.ts';
export { type FittedPole, fitPoles, type PoleFit } from './fitPoles.ts';
export { type IdentifyOptions, identifyModes, type ModalAnalysis } from './identifyModes.ts';
export { prepareBand } from './prepareBand.ts';
export { MAXIMUM_HZ } from './prepareStrikes.ts';
export {
  type MissingMode,
  type PlausibleBand,
  type Proposal,
  type ProposedMode,
  proposeModes,
} from './proposeModes.ts';
export { refineMode } from './refineMode.ts';
export type { ResponseLines } from './responseLines.ts';
export type { MeasuredValue, ModeCandidate, Refusal, ShapeRatio, StrikeSegment } from './strikeSegment.ts';
