/** A stretch of the recording in which the pole was taken to be at rest. */
export interface NoiseStretch {
  readonly startIndex: number;
  readonly endIndex: number;
  /**
   * `before` or `after` a strike: the level is that of the noise. `none`: the recording holds no quiet
   * stretch, the quietest one is still ringing, and the level is only an upper bound.
   */
  readonly source: 'before' | 'after' | 'none';
}

/** One blow, cut out of a recording. Indices count samples of the recording; ends are exclusive. */
export interface Strike {
  readonly startIndex: number;
  readonly startS: number;
  readonly endIndex: number;
  readonly endS: number;
  /** What ended the ring-down. */
  readonly endReason: 'noise' | 'next strike' | 'record end';
  /** First sample of the quiet stretch kept before the blow; equal to `startIndex` where there is none. */
  readonly preTriggerStartIndex: number;
  readonly noise: NoiseStretch;
  /** Root mean square of the noise about its mean, one a channel, in the unit of the samples. */
  readonly noiseRms: Float64Array;
  /** Largest departure from the level before the blow, one a channel. */
  readonly peak: Float64Array;
  /** Estimated time that hammer or hand was in contact, good to half as much again; null where it cannot be told. */
  readonly contactS: number | null;
  /** Frequency up to which the early response is within 10 dB of its strongest band; null where it cannot be told. */
  readonly litToHz: number | null;
}
