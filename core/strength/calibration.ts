import type { Lognormal, Species } from '../wood/index.ts';
import type { StrengthDistribution } from './distribution/strengthDistribution.ts';

/** What a calibration predicts from; null: not measured or not known. */
export type StrengthPredictors = {
  readonly species: Species;
  /** Of the stem as it stands, at its moisture and temperature, shear deflection taken out, in Pa. */
  readonly modulusPa: Lognormal;
  /** What was taken as known of the modulus before the measurement, and is in it; null: `modulusPa` is a bare measurement. */
  readonly modulusPriorPa: (Lognormal & { readonly isSetByHand: boolean }) | null;
  /** Of the wood as it stands, measured on this pole. */
  readonly densityKgPerM3: number | null;
  /** Modes 1 to 3; means of both planes. */
  readonly frequenciesHz: readonly (number | null)[];
  /** False where cables or equipment move the frequencies. */
  readonly isBare: boolean;
  /** From ground line to tip. */
  readonly stemLengthM: number | null;
  /** At ground line, outer. */
  readonly circumferenceM: number;
  readonly fixity: number | null;
  /** Mean of the stem above ground, on oven-dry mass. */
  readonly moisturePercent: number | null;
  /** Of the wood. */
  readonly temperatureC: number | null;
  /** Years in the ground. */
  readonly ageYears: number | null;
  /** As the record has it. */
  readonly treatment: string | null;
};

/** Modulus of rupture of the sound wood at ground line: a prediction for one pole, not for a mean. */
export type KnownStrength = {
  readonly modulusOfRupturePa: StrengthDistribution;
  /** Variance of the estimate over that of one pole, for tolerance limits; null where no tests stand behind it. */
  readonly leverage: number | null;
  /** What moved the estimate away from the mean of the tests, in plain sentences. */
  readonly because: readonly string[];
  /** Where the calibration is used outside of what it was made from; empty where it is not. */
  readonly warnings: readonly string[];
};

/** A strength, or why there is none. */
export type StrengthPrediction =
  | KnownStrength
  | { readonly modulusOfRupturePa: null; readonly withheldBecause: string };

/** A versioned, immutable relation from stem and root to strength, with where it came from. */
export type Calibration = {
  readonly name: string;
  readonly version: number;
  readonly source: string;
  /** Whether strength follows from the modulus with all else held; not where frequencies enter, which move with it. */
  readonly followsModulus: boolean;
  /** Says in a few sentences how the prediction is made. */
  describe(): string;
  predictModulusOfRupture(predictors: StrengthPredictors): StrengthPrediction;
};

/** Names a calibration as results and reports show it, for instance `handbook@1`. */
export function calibrationLabel(calibration: Pick<Calibration, 'name' | 'version'>): string {
  return `${calibration.name}@${calibration.version}`;
}
