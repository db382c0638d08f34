import type { StemRootPicture } from '../assessment.ts';
import { greatestOf } from '../vectors.ts';
import type { RootMixture } from './fitRoots.ts';
import { listGridValues, NORMAL } from './listGridValues.ts';
import type { StemRootSummary } from './summarisePosterior.ts';

const CREDIBLE_PROBABILITIES = [0.5, 0.9];
const PICTURE_POINTS = 61;
/** Grid points below this share of the peak do not widen the picture. */
const LEAST_SHARE = 1e-3;
/** Standard deviations of a shift that the picture has room for. */
const SHIFT_REACH_SD = 2;
const SIGNIFICANT_DIGITS = 6;
/** Standard deviation of the smoothing in steps of the posterior's grid: neighbours run into each other, and a region of three steps grows by a seventieth. */
const SMOOTHING = 0.5;
/** A normal curve is cut off here, in standard deviations. */
const SMOOTHING_REACH = 3;

type Axis = { from: number; step: number };

/**
 * The posterior as the stem-against-root picture shows it: density over ln E and ln fixity, all root models together,
 * and the contours that hold 50 and 90 %.
 */
export function pictureStemRoot(
  mixture: RootMixture,
  summary: StemRootSummary,
  requiredModulusPa: number | null,
): StemRootPicture {
  const [modulusAxis, fixityAxis] = findAxes(mixture);
  const mass = smoothMass(
    depositWeights(mixture, modulusAxis, fixityAxis),
    SMOOTHING * (widestSpacing(mixture, 'lnModulus') / modulusAxis.step),
    (SMOOTHING * Math.max(widestSpacing(mixture, 'lnFixity'), NORMAL.widthSd * widestShift(mixture))) /
      fixityAxis.step,
  );
  const peak = greatestOf(mass);
  const valuesOf = ({ from, step }: Axis) =>
    Array.from({ length: PICTURE_POINTS }, (_, i) => roundTo(Math.exp(from + step * i)));
  return {
    modulusPa: valuesOf(modulusAxis),
    fixity: valuesOf(fixityAxis),
    density: Array.from({ length: PICTURE_POINTS }, (_, i) =>
      roundRow(mass.subarray(i * PICTURE_POINTS, (i + 1) * PICTURE_POINTS), peak),
    ),
    credibleLevels: CREDIBLE_PROBABILITIES.map((probability) => ({
      probability,
      density: credibleMass(mass, probability) / peak,
    })),
    requiredModulusPa,
    classRange: {
      modulusPa: [summary.priorModulusPa.low, summary.priorModulusPa.high],
      fixity: [summary.expectedFixity.low, summary.expectedFixity.high],
    },
  };
}

function roundRow(masses: Float64Array, peak: number): number[] {
  const row: number[] = [];
  for (let j = 0; j < masses.length; j++) row.push(roundTo(masses[j]! / peak));
  return row;
}

/** Axes of ln E and ln fixity that hold all grid points worth showing. */
function findAxes(mixture: RootMixture): [Axis, Axis] {
  const low = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const high = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { posterior } of mixture) {
    const { lnModulus, lnFixity, weights, fixityShift } = posterior;
    const peak = greatestOf(weights);
    for (let at = 0; at < weights.length; at++) {
      if (weights[at]! < LEAST_SHARE * peak) continue;
      const row = Math.floor(at / lnModulus.length);
      const middle = [lnModulus[at % lnModulus.length]!, lnFixity[row]! + fixityShift.mean[at]!];
      const reach = [0, SHIFT_REACH_SD * fixityShift.sd[row]!];
      for (const axis of [0, 1]) {
        low[axis] = Math.min(low[axis]!, middle[axis]! - reach[axis]!);
        high[axis] = Math.max(high[axis]!, middle[axis]! + reach[axis]!);
      }
    }
  }
  const axis = (i: number): Axis => ({
    from: low[i]!,
    step: (high[i]! - low[i]!) / (PICTURE_POINTS - 1) || 1,
  });
  return [axis(0), axis(1)];
}

/** Probability mass at the points of the picture, row by fixity; each grid point is shared between its four neighbours. */
function depositWeights(mixture: RootMixture, modulusAxis: Axis, fixityAxis: Axis): Float64Array {
  const mass = new Float64Array(PICTURE_POINTS * PICTURE_POINTS);
  const place = (value: number, { from, step }: Axis): number =>
    Math.min(Math.max((value - from) / step, 0), PICTURE_POINTS - 1);
  for (const { posterior, probability } of mixture) {
    const { lnModulus, lnFixity, weights, fixityShift } = posterior;
    const quantity = { weights, rows: lnFixity.length, perX: lnFixity, perModulus: null, shift: fixityShift };
    const { values, weights: shares, places } = listGridValues(quantity);
    for (let p = 0; p < values.length; p++) {
      const along = place(lnModulus[places[p]! % lnModulus.length]!, modulusAxis);
      const upward = place(values[p]!, fixityAxis);
      const j = Math.min(Math.floor(along), PICTURE_POINTS - 2);
      const i = Math.min(Math.floor(upward), PICTURE_POINTS - 2);
      const right = along - j;
      const up = upward - i;
      const weight = probability * shares[p]!;
      const corner = i * PICTURE_POINTS + j;
      mass[corner]! += weight * (1 - right) * (1 - up);
      mass[corner + 1]! += weight * right * (1 - up);
      mass[corner + PICTURE_POINTS]! += weight * (1 - right) * up;
      mass[corner + PICTURE_POINTS + 1]! += weight * right * up;
    }
  }
  return mass;
}

/** Widest distance of neighbours among the points of a posterior's grid, of the root model that has the widest. */
function widestSpacing(mixture: RootMixture, axis: 'lnModulus' | 'lnFixity'): number {
  return Math.max(
    0,
    ...mixture.flatMap(({ posterior }) =>
      Array.from(posterior[axis].subarray(1), (value, i) => Math.abs(value - posterior[axis][i]!)),
    ),
  );
}

/** Largest standard deviation of what uncertain inputs add to ln fixity. */
function widestShift(mixture: RootMixture): number {
  return Math.max(0, ...mixture.flatMap(({ posterior }) => [...posterior.fixityShift.sd]));
}

/** Spreads each point over its neighbours, so that a posterior whose grid is coarser than the picture does not fall into stripes. */
function smoothMass(mass: Float64Array, columns: number, rows: number): Float64Array {
  return smoothAlong(smoothAlong(mass, columns, 1), rows, PICTURE_POINTS);
}

/** Convolves with a normal curve along columns (stride 1) or rows; what would leave the picture stays at its edge. */
function smoothAlong(mass: Float64Array, deviation: number, stride: number): Float64Array {
  const reach = Math.ceil(SMOOTHING_REACH * deviation);
  const kernel = Array.from({ length: 2 * reach + 1 }, (_, k) =>
    deviation === 0 ? 1 : Math.exp(-0.5 * ((k - reach) / deviation) ** 2),
  );
  const total = kernel.reduce((sum, value) => sum + value, 0);
  const smoothed = new Float64Array(mass.length);
  const across = stride === 1 ? PICTURE_POINTS : 1;
  for (let line = 0; line < PICTURE_POINTS; line++) {
    for (let at = 0; at < PICTURE_POINTS; at++) {
      const share = mass[line * across + at * stride]! / total;
      for (let k = 0; k < kernel.length && share > 0; k++) {
        const to = Math.min(Math.max(at + k - reach, 0), PICTURE_POINTS - 1);
        smoothed[line * across + to * stride]! += share * kernel[k]!;
      }
    }
  }
  return smoothed;
}

/** Mass of a point above which the points hold a probability together: taken from the heaviest down. */
function credibleMass(mass: Float64Array, probability: number): number {
  const ordered = mass.toSorted();
  let held = 0;
  for (let at = ordered.length - 1; at >= 0; at--) {
    held += ordered[at]!;
    if (held >= probability) return ordered[at]!;
  }
  return 0;
}

function roundTo(value: number): number {
  return Number(value.toPrecision(SIGNIFICANT_DIGITS));
}
