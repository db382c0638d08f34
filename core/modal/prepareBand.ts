import { scaled } from '../vectors.ts';
import { orthonormalise, projectOut, projectOutHalves } from './orthogonalColumns.ts';
import { fillPoleTerm } from './poleBasis.ts';
import type { ResponseLines } from './responseLines.ts';

/**
 * Lines of a band together with what every fit in it shares: the smooth background, and the lines free of it.
 */
export interface Band {
  readonly lines: ResponseLines;
  /** Orthonormal real polynomials over the lines: each takes a complex coefficient. */
  readonly curves: readonly Float64Array[];
  /** Orthonormal columns of the rest of the background; real parts of all lines, then imaginary parts. */
  readonly drifts: readonly Float64Array[];
  /** Each channel with the background projected out, laid out like the columns. */
  readonly remainders: readonly Float64Array[];
  readonly hasDrift: boolean;
}

/**
 * Complex coefficients of the polynomial that stands for the tails of modes outside the band: up to
 * curvature.
 */
const BACKGROUND_TERMS = 3;
/** With fewer lines than this the curvature would eat the mode itself. */
const FEWEST_LINES_FOR_CURVATURE = 12;
/** Below this frequency the drift of a sensor and the rest of a static shift show. */
export const HIGHEST_DRIFT_HZ = 4;

/** What settles more slowly than this corner looks like drift in any record, and two names for it cost clarity. */
const LEAST_SETTLING_HZ = 0.3;

/** Number of polynomial terms of the background in a band of so many lines. */
export function countBackgroundTerms(lineCount: number): number {
  return lineCount < FEWEST_LINES_FOR_CURVATURE ? BACKGROUND_TERMS - 1 : BACKGROUND_TERMS;
}

/**
 * Prepares a band for {@link fitPoles}. The background is a complex polynomial over the band (other modes'
 * tails) and, in bands that reach down to {@link HIGHEST_DRIFT_HZ}, the exact transform of a straight and of
 * a parabolic drift over the record: real multiples of 1 / (w - 1) and w / (w - 1)^2, the poles at z = 1. Where
 * the sensor's corner is known, the blow's offset settles through a high pass of first order: a real pole there.
 */
export function prepareBand(lines: ResponseLines): Band {
  const f = lines.frequenciesHz;
  const n = f.length;
  const middle = (f[0]! + f[n - 1]!) / 2;
  const half = (f[n - 1]! - f[0]!) / 2;
  const { basis: curves } = orthonormalise(
    powersOf(scaled(f, 1 / half, -middle / half), countBackgroundTerms(n)),
  );
  const hasDrift = f[0]! < HIGHEST_DRIFT_HZ;
  const columns = hasDrift ? driftColumns(f, lines.sampleRateHz) : [];
  if (hasDrift && lines.cornerHz != null && lines.cornerHz > LEAST_SETTLING_HZ) {
    const settling = { decayRate: 2 * Math.PI * lines.cornerHz, angularFrequency: 0 };
    const column = new Float64Array(2 * n);
    fillPoleTerm(column, null, settling, 1, f, lines.sampleRateHz);
    columns.push(column);
  }
  for (const column of columns) {
    projectOutHalves(column, curves);
    projectOutHalves(column, curves);
  }
  const { basis: drifts } = orthonormalise(columns);
  const remainders = lines.channels.map(({ re, im }) => {
    const remainder = new Float64Array(2 * n);
    remainder.set(re);
    remainder.set(im, n);
    projectOutBackground(remainder, { curves, drifts });
    projectOutBackground(remainder, { curves, drifts });
    return remainder;
  });
  return { lines, curves, drifts, remainders, hasDrift };
}

/** Takes the background from a column, in place. */
export function projectOutBackground(
  column: Float64Array,
  { curves, drifts }: Pick<Band, 'curves' | 'drifts'>,
): void {
  projectOutHalves(column, curves);
  projectOut(column, drifts);
}

/** Real coefficients that the background takes up in each channel. */
export function countBackgroundParameters({ curves, drifts }: Band): number {
  return 2 * curves.length + drifts.length;
}

/** The same band with some of its channels only. */
export function pickChannels(band: Band, channels: readonly number[]): Band {
  return {
    ...band,
    lines: {
      ...band.lines,
      channels: channels.map((c) => band.lines.channels[c]!),
      noisePower: channels.map((c) => band.lines.noisePower[c]!),
    },
    remainders: channels.map((c) => band.remainders[c]!),
  };
}

function driftColumns(frequenciesHz: Float64Array, sampleRateHz: number): Float64Array[] {
  const n = frequenciesHz.length;
  const straight = new Float64Array(2 * n);
  const parabolic = new Float64Array(2 * n);
  for (let k = 0; k < n; k++) {
    const halfAngle = (Math.PI * frequenciesHz[k]!) / sampleRateHz;
    // 1 / (w - 1) = -1/2 + i cot(halfAngle) / 2; w / (w - 1)^2 = -1 / (4 sin^2 halfAngle)
    straight[k] = -0.5;
    straight[n + k] = 0.5 / Math.tan(halfAngle);
    parabolic[k] = -0.25 / Math.sin(halfAngle) ** 2;
  }
  return [straight, parabolic];
}

/** The values to the powers 0 to count - 1. */
function powersOf(values: Float64Array, count: number): Float64Array[] {
  const powers = [new Float64Array(values.length).fill(1)];
  for (let power = 1; power < count; power++) {
    const next = powers[power - 1]!.slice();
    for (let k = 0; k < next.length; k++) next[k]! *= values[k]!;
    powers.push(next);
  }
  return powers;
}
