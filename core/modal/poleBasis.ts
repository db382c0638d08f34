/** A pole s = -decayRate + i angularFrequency, both in 1/s. */
export interface Pole {
  readonly decayRate: number;
  readonly angularFrequency: number;
}

/**
 * Fills `out` (re, im interleaved by halves: n real parts, then n imaginary parts) with 1 / (1 - z w) of each
 * line and, where given, `slope` with its derivative by s, for z = exp(s / rate), w = exp(-i omega / rate).
 * With many samples a line this nears rate / (i omega - s), the partial fraction of a frequency response.
 * `sign` -1 takes the conjugate pole.
 */
export function fillPoleTerm(
  out: Float64Array,
  slope: Float64Array | null,
  pole: Pole,
  sign: 1 | -1,
  frequenciesHz: Float64Array,
  sampleRateHz: number,
): void {
  const n = frequenciesHz.length;
  const a = -pole.decayRate / sampleRateHz;
  const growth = Math.expm1(a);
  for (let k = 0; k < n; k++) {
    const b = (sign * pole.angularFrequency - 2 * Math.PI * frequenciesHz[k]!) / sampleRateHz;
    // 1 - exp(a + i b) without the cancellation near 0
    const sinHalf = Math.sin(b / 2);
    const sinB = 2 * sinHalf * Math.cos(b / 2);
    const denominatorRe = 2 * sinHalf * sinHalf * (1 + growth) - growth;
    const denominatorIm = -(1 + growth) * sinB;
    const size = denominatorRe * denominatorRe + denominatorIm * denominatorIm;
    const re = denominatorRe / size;
    const im = -denominatorIm / size;
    out[k] = re;
    out[n + k] = im;
    if (slope === null) continue;
    // d/ds = (z w / rate) / (1 - z w)^2 with z w = 1 - (1 - z w)
    const zwRe = 1 - denominatorRe;
    const zwIm = -denominatorIm;
    const squareRe = re * re - im * im;
    const squareIm = 2 * re * im;
    slope[k] = (zwRe * squareRe - zwIm * squareIm) / sampleRateHz;
    slope[n + k] = (zwRe * squareIm + zwIm * squareRe) / sampleRateHz;
  }
}

/** D + M and i (D - M), the columns of a residue's real and imaginary part. */
export function combinePair(direct: Float64Array, mirror: Float64Array): [Float64Array, Float64Array] {
  const n = direct.length / 2;
  const real = new Float64Array(2 * n);
  const imaginary = new Float64Array(2 * n);
  for (let k = 0; k < n; k++) {
    real[k] = direct[k]! + mirror[k]!;
    real[n + k] = direct[n + k]! + mirror[n + k]!;
    imaginary[k] = mirror[n + k]! - direct[n + k]!;
    imaginary[n + k] = direct[k]! - mirror[k]!;
  }
  return [real, imaginary];
}
