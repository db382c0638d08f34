import type { Lognormal, Species } from '../../wood/index.ts';
import type { BreakTestRow } from './breakTestRow.ts';
import type { PredictorName, RelationSpec } from './relationSpec.ts';

/** What was measured on a pole, broken or not, that a relation may use. Null: not measured. */
export type PoleMeasurements = {
  readonly species: Species;
  readonly treatment: string | null;
  /** As measured, with the error of the measurement; its spread is infinite where nothing was learned. */
  readonly modulusPa: Lognormal | null;
  readonly densityKgPerM3: number | null;
  readonly frequenciesHz: readonly (number | null)[];
  readonly stemLengthM: number | null;
  readonly circumferenceM: number | null;
  readonly fixity: number | null;
  readonly ageYears: number | null;
  readonly moisturePercent: number | null;
};

/** A predictor as a person reads it, and how it enters a relation. */
export type PredictorInfo = {
  readonly label: string;
  readonly unit: string;
  /** One unit in SI. */
  readonly unitInSi: number;
  /** Whether a log-linear relation takes its logarithm. */
  readonly isLogged: boolean;
  readonly read: (pole: PoleMeasurements) => number | null;
};

/** What tells stiffness, and so carries the error of the modulus. */
const STIFFNESS_PREDICTORS: readonly PredictorName[] = ['modulus', 'specificModulus'];

export const PREDICTOR_INFO: Readonly<Record<PredictorName, PredictorInfo>> = {
  modulus: {
    label: 'modulus of elasticity',
    unit: 'GPa',
    unitInSi: 1e9,
    isLogged: true,
    read: (pole) => pole.modulusPa?.median ?? null,
  },
  specificModulus: {
    label: 'modulus of elasticity over density',
    unit: 'km2/s2',
    unitInSi: 1e6,
    isLogged: true,
    read: ({ modulusPa, densityKgPerM3 }) =>
      modulusPa === null || densityKgPerM3 === null ? null : modulusPa.median / densityKgPerM3,
  },
  frequency1: describeFrequency(1),
  frequency2: describeFrequency(2),
  frequency3: describeFrequency(3),
  circumference: {
    label: 'circumference at ground line',
    unit: 'm',
    unitInSi: 1,
    isLogged: true,
    read: (pole) => pole.circumferenceM,
  },
  fixity: { label: 'fixity', unit: '', unitInSi: 1, isLogged: true, read: (pole) => pole.fixity },
  age: {
    label: 'years in the ground',
    unit: 'years',
    unitInSi: 1,
    isLogged: false,
    read: (pole) => pole.ageYears,
  },
  moisture: {
    label: 'moisture',
    unit: '%',
    unitInSi: 1,
    isLogged: false,
    read: (pole) => pole.moisturePercent,
  },
};

/**
 * A frequency scaled by geometry to a speed, f L^2 / d: of alike cantilevers it is a constant times sqrt(E / density)
 * (Bernoulli-Euler beam), whatever their size.
 */
function describeFrequency(mode: number): PredictorInfo {
  return {
    label: `frequency of mode ${mode}, scaled`,
    unit: 'm/s',
    unitInSi: 1,
    isLogged: true,
    read({ frequenciesHz, stemLengthM, circumferenceM }) {
      const frequencyHz = frequenciesHz[mode - 1] ?? null;
      if (frequencyHz === null || stemLengthM === null || circumferenceM === null) return null;
      return (frequencyHz * stemLengthM ** 2) / (circumferenceM / Math.PI);
    },
  };
}

/** Words for a pole's own value: its modulus in a result has in it what is known of the species, and so is another figure. */
export function labelOfPole(name: PredictorName): string {
  const { label } = PREDICTOR_INFO[name];
  return STIFFNESS_PREDICTORS.includes(name) ? `${label} by the recordings alone` : label;
}

/** The one predictor of a relation that carries the error of the modulus; null where none does. */
export function stiffnessPredictorOf({ predictors }: Pick<RelationSpec, 'predictors'>): PredictorName | null {
  return predictors.find((name) => STIFFNESS_PREDICTORS.includes(name)) ?? null;
}

/** Whether a stiffer stem has more of it, and a softer one less. */
export function tellsStiffness(name: PredictorName): boolean {
  return STIFFNESS_PREDICTORS.includes(name) || name.startsWith('frequency');
}

/** A predictor on the scale of the fit; null where it was not measured. */
export function readPredictor(
  name: PredictorName,
  form: RelationSpec['form'],
  pole: PoleMeasurements,
): number | null {
  const { read, isLogged } = PREDICTOR_INFO[name];
  const value = read(pole);
  if (value === null) return null;
  return form === 'log-linear' && isLogged ? Math.log(value) : value;
}

/** A predictor as it was before it came to the scale of the fit. */
export function readBack(name: PredictorName, form: RelationSpec['form'], onScale: number): number {
  return form === 'log-linear' && PREDICTOR_INFO[name].isLogged ? Math.exp(onScale) : onScale;
}

/** Digits that a measurement of wood is good for. */
const SHOWN_DIGITS = 3;

/** A predictor with its unit, as a person reads it. */
export function showPredictor(name: PredictorName, value: number): string {
  const { unit, unitInSi } = PREDICTOR_INFO[name];
  return `${Number((value / unitInSi).toPrecision(SHOWN_DIGITS))} ${unit}`.trimEnd();
}

/** Error variance of a predictor that carries the error of the modulus, on the scale of the fit, to first order. */
export function modulusErrorVariance(
  form: RelationSpec['form'],
  valueOnScale: number,
  { logSd }: Lognormal,
): number {
  return form === 'log-linear' ? logSd ** 2 : (valueOnScale * logSd) ** 2;
}

/** A break test as the measurements of its pole. */
export function measurementsOf(row: BreakTestRow): PoleMeasurements {
  return {
    ...row,
    modulusPa: row.modulusPa === null ? null : { median: row.modulusPa, logSd: row.modulusLogSd ?? 0 },
  };
}
