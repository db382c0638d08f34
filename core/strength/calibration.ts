import type { Lognormal, Species } from '../wood/index.ts';

/** What a calibration predicts from. */
export type StrengthPredictors = {
  readonly species: Species;
  /** Of the stem as it stands, at its moisture and temperature, shear deflection taken out, in Pa. */
  readonly modulusPa: Lognormal;
  /** Mean of the stem above ground, on oven-dry mass; null where it was not measured. */
  readonly moisturePercent: number | null;
  /** Of the wood; null where it was not measured. */
  readonly temperatureC: number | null;
  /** Years in the ground; null where it is not known. */
  readonly ageYears: number | null;
  /** As the record has it; null where it is not stated. */
  readonly treatment: string | null;
};

/** Modulus of rupture of the sound wood at ground line: a prediction for one pole, not for a mean. */
export type StrengthPrediction = {
  readonly modulusOfRupturePa: Lognormal;
  /** Where the calibration is used outside of what it was made from; empty where it is not. */
  readonly warnings: readonly string[];
};

/** A versioned, immutable relation from stem and root to strength, with where it came from. */
export type Calibration = {
  readonly name: string;
  readonly version: number;
  readonly source: string;
  /** Says in a few sentences how the prediction is made. */
  describe(): string;
  predictModulusOfRupture(predictors: StrengthPredictors): StrengthPrediction;
};

/** Names a calibration as results and reports show it, for instance `handbook@1`. */
export function calibrationLabel(calibration: Pick<Calibration, 'name' | 'version'>): string {
  return `${calibration.name}@${calibration.version}`;
}
