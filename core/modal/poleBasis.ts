/** A pole s = -decayRate + i angularFrequency, both in 1/s. */
export interface Pole {
  readonly decayRate: number;
  readonly angularFrequency: number;
}

/**
 * Fills `out` (re, im interleaved by halves: n real parts, then n imaginary parts) with 1 / (1 - z w) of each
 * line and, where given, `slope` with its derivative by s, for z = exp(s / rate), w = exp(-i omega / rate).
 * With many samples a line this nears rate / (i omega - s), the partial fraction of a frequency response.
 * `sign` -1 takes the conjugate pole. Lines are evenly spaced: the half angles turn by a fixed step.
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
  const step = (-Math.PI * (frequenciesHz[n - 1]! - frequenciesHz[0]!)) / ((n - 1) * sampleRateHz);
  const stepSin = Math.sin(step);
  const stepCos = Math.cos(step);
  const first = (sign * pole.angularFrequency - 2 * Math.PI * frequenciesHz[0]!) / (2 * sampleRateHz);
  let nextSin = Math.sin(first);
  let nextCos = Math.cos(first);
  for (let k = 0; k < n; k++) {
    // 1 - exp(a + i b) without the cancellation near 0
    const sinHalf = nextSin;
    const cosHalf = nextCos;
    nextSin = sinHalf * stepCos + cosHalf * stepSin;
    nextCos = cosHalf * stepCos - sinHalf * stepSin;
    const sinB = 2 * sinHalf * cosHalf;
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

/** Makes of D and M, in place, D + M and i (D - M): the columns of a residue's real and imaginary part. */
export function combinePair(direct: Float64Array, mirror: Float64Array): void {
  const n = direct.length / 2;
  for (let k = 0; k < n; k++) {
    const a = direct[k]!;
    const b = direct[n + k]!;
    const c = mirror[k]!;
    const d = mirror[n + k]!;
    direct[k] = a + c;
    direct[n + k] = b + d;
    mirror[k] = d - b;
    mirror[n + k] = a - c;
  }
}
