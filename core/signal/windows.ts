/** Windows known here; all periodic (DFT-even), as spectra want them. */
export const WINDOW_KINDS = ['rectangular', 'hann', 'hamming', 'blackman-harris', 'flat-top'] as const;

export type WindowKind = (typeof WINDOW_KINDS)[number];

/**
 * Cosine-sum coefficients a0 - a1 cos + a2 cos - ...: Harris 1978 (Proc. IEEE 66(1):51-83) for hann, hamming
 * and the 4-term Blackman-Harris (-92 dB); D'Antona and Ferrero 2006 (Digital Signal Processing for
 * Measurement Systems, p. 70) for the flat top, the one that SciPy and MATLAB use.
 */
const COSINE_SUMS: Readonly<Record<WindowKind, readonly number[]>> = {
  rectangular: [1],
  hann: [0.5, 0.5],
  hamming: [0.54, 0.46],
  'blackman-harris': [0.35875, 0.48829, 0.14128, 0.01168],
  'flat-top': [0.21557895, 0.41663158, 0.277263158, 0.083578947, 0.006947368],
};

/**
 * Builds the periodic form of a window.
 * @param length - samples, 1 or more
 * @returns `length` weights with a largest value of 1
 */
export function buildWindow(kind: WindowKind, length: number): Float64Array {
  const coefficients = COSINE_SUMS[kind];
  const weights = new Float64Array(length);
  // A single sample has no shape; the formula would make it zero.
  if (length === 1) return weights.fill(1);
  for (let i = 0; i < length; i++) {
    let weight = 0;
    for (let term = 0; term < coefficients.length; term++) {
      const sign = term % 2 === 0 ? 1 : -1;
      weight += sign * coefficients[term]! * Math.cos((2 * Math.PI * term * i) / length);
    }
    weights[i] = weight;
  }
  return weights;
}

/** Longer windows are seldom asked for twice and would hold megabytes. */
const LONGEST_KEPT = 2 ** 16;
const MOST_KEPT = 24;
const kept = new Map<string, Float64Array>();

/**
 * The same weights as {@link buildWindow}, kept for the next of the many segments of one length: their cosines take
 * longer than the transform of what they weigh. Shared, so never to be changed.
 */
export function takeWindow(kind: WindowKind, length: number): Float64Array {
  const key = `${kind} ${length}`;
  const there = kept.get(key);
  if (there !== undefined) return there;
  const fresh = buildWindow(kind, length);
  if (length > LONGEST_KEPT) return fresh;
  if (kept.size === MOST_KEPT) kept.delete(kept.keys().next().value!);
  kept.set(key, fresh);
  return fresh;
}

/**
 * Computes the equivalent noise bandwidth of a window, in bins of its own length: N sum(w^2) / sum(w)^2
 * (Harris 1978, eq. 11). Times the sample rate over N it is the width in Hz of the ideal filter that passes
 * the same noise.
 */
export function computeNoiseBandwidthBins(weights: Float64Array): number {
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < weights.length; i++) {
    sum += weights[i]!;
    squares += weights[i]! ** 2;
  }
  return (weights.length * squares) / sum ** 2;
}
