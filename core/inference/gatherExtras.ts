import type { VisitFile } from '../recording/index.ts';
import type { Extra, Prediction } from './data.ts';
import { predictQuantity, type Quantity } from './extras.ts';
import type { FrequencyTable } from './frequencyTable.ts';
import { interpolate } from './interpolate.ts';

/** A measured mode-shape ratio of a numbered pick. */
export type MeasuredShape = {
  readonly plane: number;
  readonly number: number;
  readonly heightM: number;
  readonly referenceHeightM: number;
  readonly ratio: number;
  readonly sd: number;
};

/** Error of the model in a ratio of motions, as a share of it and at the least: taper and modulus along the stem (ours). */
const SHAPE_MODEL_SHARE = 0.03;
const SHAPE_MODEL_SD = 0.02;
/** Sensors of a pair agree in gain, and their heights are known, within this much at one standard deviation (ours). */
const GAIN_SHARE = 0.05;
const HEIGHT_SD_M = 0.05;
/** Motion grows about with the 1.5th power of height near the ground (ours): what an error of height does to a ratio. */
const HEIGHT_POWER = 1.5;
/** Reading of force and deflection (ours). */
const PULL_LOG_SD = 0.1;
/** Soil gives more in a slow pull than in a blow: its modulus then is another, by this much in ln (ours). */
const SLOW_SOIL_LOG_SD = 0.6;

/** Predictions of further data are costly and hang on the pole alone: kept for each table while picks change. */
const kept = new WeakMap<FrequencyTable, Map<string, Prediction>>();

/** Sets a visit's static pull and the mode-shape ratios of its picks as data beside the picks. */
export function gatherExtras(
  table: FrequencyTable,
  staticPull: VisitFile['measured']['staticPull'],
  shapes: readonly MeasuredShape[],
): Extra[] {
  return [
    ...(staticPull ? [takePull(table, staticPull)] : []),
    ...shapes.map(({ plane, number, heightM, referenceHeightM, ratio, sd }) => ({
      name: `shape of mode ${number}, ${heightM} m over ${referenceHeightM} m, plane ${plane}`,
      measured: ratio,
      sd: Math.hypot(sd, SHAPE_MODEL_SHARE * ratio, SHAPE_MODEL_SD),
      shared: {
        name: `sensors at ${heightM} and ${referenceHeightM} m`,
        sd:
          Math.abs(ratio) *
          Math.hypot(
            GAIN_SHARE,
            (HEIGHT_POWER * HEIGHT_SD_M) / heightM,
            (HEIGHT_POWER * HEIGHT_SD_M) / referenceHeightM,
          ),
      },
      prediction: predictOnce(table, table.azimuthsDeg[plane]!, {
        kind: 'shape',
        number,
        heightM,
        referenceHeightM,
      }),
    })),
  ];
}

function takePull(table: FrequencyTable, pull: NonNullable<VisitFile['measured']['staticPull']>): Extra {
  const prediction = predictOnce(table, pull.azimuthDeg, {
    kind: 'pull',
    forceHeightM: pull.forceHeightM,
    readAtM: pull.deflectionHeightM,
  });
  const middle = (table.x[0]! + table.x.at(-1)!) / 2;
  const step = (table.x.at(-1)! - table.x[0]!) / (table.x.length - 1);
  const at = (x: number) => interpolate(table, prediction.values, x, table.lnModulus[1]!);
  const perSoil = (at(middle + step) - at(middle - step)) / (2 * step);
  return {
    name: 'static pull',
    measured: Math.log(pull.deflectionM / pull.forceN),
    sd: Math.hypot(PULL_LOG_SD, SLOW_SOIL_LOG_SD * perSoil),
    shared: null,
    prediction,
  };
}

function predictOnce(table: FrequencyTable, azimuthDeg: number, quantity: Quantity): Prediction {
  const predictions = kept.get(table) ?? new Map<string, Prediction>();
  kept.set(table, predictions);
  const key = JSON.stringify([azimuthDeg, quantity]);
  const known = predictions.get(key);
  if (known) return known;
  const prediction = predictQuantity(table, azimuthDeg, quantity);
  predictions.set(key, prediction);
  return prediction;
}
