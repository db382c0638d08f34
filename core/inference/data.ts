import type { FrequencyTable } from './frequencyTable.ts';
import { interpolateRow } from './interpolate.ts';
import { MODE_IN_PLANE_LOG_SD, MODE_LOG_SD } from './irregularities.ts';

/** A measured frequency held to be mode `number` (from 1) of a plane. */
export type Pick = {
  readonly plane: number;
  readonly number: number;
  readonly frequencyHz: number;
  readonly sdHz: number;
};

/** A quantity over the table's axes with its sensitivities, laid out like a mode's in {@link FrequencyTable}. */
export type Prediction = { readonly values: Float64Array; readonly sensitivity: Float64Array };

/** A further measured quantity that stem and root predict: a mode-shape ratio, or ln of the give under a static pull. */
export type Extra = {
  readonly name: string;
  readonly measured: number;
  /** Of measurement and model together, apart from what it shares with others. */
  readonly sd: number;
  /** An error that all extras of a name have together, each by so much. */
  readonly shared: { readonly name: string; readonly sd: number } | null;
  readonly prediction: Prediction;
};

/** All that a fit explains: what was measured, what predicts it, and how its errors hang together. */
export type Data = {
  readonly measured: Float64Array;
  readonly predictions: readonly Prediction[];
  /** Covariance of everything but the uncertain inputs, row-major. */
  readonly own: Float64Array;
  /** Factor on all variances of measurement and model, within `own` and on the pole's irregularities. */
  readonly widening: number;
};

/**
 * Sets picks (as ln f) and extras side by side.
 */
export function gatherData(
  table: FrequencyTable,
  picks: readonly Pick[],
  extras: readonly Extra[],
  widening: number,
): Data {
  return {
    measured: Float64Array.from([
      ...picks.map((pick) => Math.log(pick.frequencyHz)),
      ...extras.map((extra) => extra.measured),
    ]),
    predictions: [
      ...picks.map(({ plane, number }) => predictionOf(table, plane, number)),
      ...extras.map((extra) => extra.prediction),
    ],
    own: ownCovariance(picks, extras, widening),
    widening,
  };
}

/** The data at these places alone, in their order. */
export function selectData({ measured, predictions, own, widening }: Data, places: readonly number[]): Data {
  const n = measured.length;
  return {
    measured: Float64Array.from(places, (i) => measured[i]!),
    predictions: places.map((i) => predictions[i]!),
    own: Float64Array.from(places.flatMap((a) => places.map((b) => own[a * n + b]!))),
    widening,
  };
}

/** ln f of mode `number` of a plane as the table predicts it. */
export function predictionOf(table: FrequencyTable, plane: number, number: number): Prediction {
  return {
    values: table.logFrequency[plane]![number - 1]!,
    sensitivity: table.sensitivity[plane]![number - 1]!,
  };
}

/** Room for the sensitivities of each datum to all uncertain inputs. */
export function createSensitivities(table: FrequencyTable, data: Data): Float64Array[] {
  return data.predictions.map(() => new Float64Array(table.nuisances.length));
}

/** Change of each prediction for one standard deviation of each uncertain input, irregularities widened, at x, into `rows`. */
export function sensitivitiesAt(
  table: FrequencyTable,
  data: Data,
  x: number,
  rows = createSensitivities(table, data),
): Float64Array[] {
  const widened = Math.sqrt(data.widening);
  for (let p = 0; p < rows.length; p++) {
    const row = rows[p]!;
    interpolateRow(table.sensitivityX, data.predictions[p]!.sensitivity, x, row);
    for (let q = table.inputCount; q < row.length; q++) row[q]! *= widened;
  }
  return rows;
}

/** What is left of the model's own error, and the measurement. */
function ownCovariance(picks: readonly Pick[], extras: readonly Extra[], widening: number): Float64Array {
  const n = picks.length + extras.length;
  const covariance = new Float64Array(n * n);
  for (const [a, pick] of picks.entries()) {
    for (const [b, other] of picks.entries()) {
      if (pick.number === other.number) {
        covariance[a * n + b] = widening * MODE_LOG_SD[pick.number - 1]! ** 2;
      }
    }
    covariance[a * n + a]! += widening * (MODE_IN_PLANE_LOG_SD ** 2 + (pick.sdHz / pick.frequencyHz) ** 2);
  }
  for (const [e, extra] of extras.entries()) {
    const at = picks.length + e;
    for (const [o, other] of extras.entries()) {
      if (extra.shared && extra.shared.name === other.shared?.name) {
        covariance[at * n + picks.length + o] = widening * extra.shared.sd * other.shared.sd;
      }
    }
    covariance[at * n + at]! += widening * extra.sd ** 2;
  }
  return covariance;
}
