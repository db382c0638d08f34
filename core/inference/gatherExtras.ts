import type { VisitFile } from '../recording/index.ts';
import type { Extra, Prediction } from './data.ts';
import { predictQuantity, type Quantity } from './extras.ts';
import type { FrequencyTable } from './frequencyTable.ts';

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
/** Reading of force and deflection, and soil that gives more in a slow pull than in a blow (ours). */
const PULL_LOG_SD = 0.1;

/** Predictions of further data are costly and hang on the pole alone: kept for each table while picks change. */
const kept = new WeakMap<FrequencyTable, Map<string, Prediction>>();

/** Sets a visit's static pull and the mode-shape ratios of its picks as data beside the picks. */
export function gatherExtras(
  table: FrequencyTable,
  staticPull: VisitFile['measured']['staticPull'],
  shapes: readonly MeasuredShape[],
): Extra[] {
  const pull: Extra[] = staticPull
    ? [
        {
          name: 'static pull',
          measured: Math.log(staticPull.deflectionM / staticPull.forceN),
          sd: PULL_LOG_SD,
          prediction: predictOnce(table, staticPull.azimuthDeg, {
            kind: 'pull',
            forceHeightM: staticPull.forceHeightM,
            readAtM: staticPull.deflectionHeightM,
          }),
        },
      ]
    : [];
  return [
    ...pull,
    ...shapes.map(({ plane, number, heightM, referenceHeightM, ratio, sd }) => ({
      name: `shape of mode ${number}, ${heightM} m over ${referenceHeightM} m, plane ${plane}`,
      measured: ratio,
      sd: Math.hypot(sd, SHAPE_MODEL_SHARE * ratio, SHAPE_MODEL_SD),
      prediction: predictOnce(table, table.azimuthsDeg[plane]!, {
        kind: 'shape',
        number,
        heightM,
        referenceHeightM,
      }),
    })),
  ];
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
