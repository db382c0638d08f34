/**
 * One strike as the identification takes it: the ring-down of both planes, cut out after the contact has
 * ended.
 */
export interface StrikeSegment {
  readonly recording: string;
  readonly strikeIndex: number;
  readonly sampleRateHz: number;
  /** m/s2, one array a channel, equal lengths, starting just after the contact. */
  readonly channels: readonly Float64Array[];
  /** Direction of each channel; directions 180 degrees apart are one plane. */
  readonly azimuthsDeg: readonly number[];
  /** Height of each channel above ground; left out where all are at one height. */
  readonly heightsM?: readonly number[];
  /**
   * Root mean square of each channel before the blow, m/s2; bounds from below how little noise a fit may
   * claim.
   */
  readonly noiseRms: readonly number[];
  /** Frequency below which sensor or recorder lose the signal; null where unknown. */
  readonly cornerHz: number | null;
  readonly exciter: 'hammer' | 'hand' | 'unknown';
  /** Time constant of an exponential window over the samples, whose damping comes off; left out where there is none. */
  readonly exponentialWindowS?: number;
}

export interface MeasuredValue {
  readonly value: number;
  readonly sd: number;
}

/** Why a candidate is refused, in one word; `reason` says it in full. */
export type Refusal =
  | 'corner'
  | 'hum'
  | 'steady'
  | 'damped'
  | 'faint'
  | 'vague'
  | 'once'
  | 'seldom'
  | 'touched'
  | 'unstable'
  | 'reach';

/** Mode shape of a candidate at one height over that at another, in its plane. */
export interface ShapeRatio {
  readonly heightM: number;
  readonly referenceHeightM: number;
  readonly ratio: number;
  readonly sd: number;
}

/** A natural frequency of one bending plane, taken or refused, and why. */
export interface ModeCandidate {
  /** Index into the distinct azimuths of the strikes, in the order of their first channels. */
  readonly plane: number;
  /** Of the principal plane. */
  readonly azimuthDeg: number;
  /** Undamped natural frequency |s| / 2 pi of the pole s. */
  readonly frequencyHz: MeasuredValue;
  /** -Re(s) / |s|. */
  readonly dampingRatio: MeasuredValue;
  /**
   * Energy of the fitted peak, as far as no smooth background could stand for it, over the noise of one
   * spectral line beside it, in the strike that shows it best. For a peak as narrow as a line this is its
   * height over the noise.
   */
  readonly prominenceDb: number;
  /** Number of strikes in which the mode was found. */
  readonly strikes: number;
  /** First amplitude over that of the strongest mode in the same plane and strike, at its largest; 0 to 1. */
  readonly relativeAmplitude: number;
  /** Model orders of the stabilisation diagram at which a pole stands here; 0 where none holds. */
  readonly orders: number;
  /** Where channels of its plane lie at several heights. */
  readonly shapeRatios?: readonly ShapeRatio[];
  readonly accepted: boolean;
  readonly refusal: Refusal | null;
  /** Plain words for taking or refusing it. */
  readonly reason: string;
}
