/** One load and what it does at ground line. */
export type RequirementItem = {
  readonly name: string;
  readonly kind: 'class' | 'wind' | 'tension' | 'weight';
  readonly loadN: number;
  /** Height above ground line; of a weight its distance from the pole's axis. */
  readonly armM: number;
  /** `loadN` times `armM`, before any factor. */
  readonly momentNm: number;
  /** Load factor over strength factor. */
  readonly factor: number;
  /** What the pole must stand: `momentNm` times `factor`. */
  readonly requiredMomentNm: number;
};

/** The groundline moment that is asked of a pole. */
export type RequiredMoment = {
  readonly groundlineMomentNm: number;
  readonly source: string;
  /** The loads it is the sum of; absent for a moment that was given as a number. */
  readonly items?: readonly RequirementItem[];
};
