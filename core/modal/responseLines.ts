import { transformReal } from '../signal/index.ts';

/** Complex spectral lines of one response on several channels; all arrays have one value a line. */
export interface ResponseLines {
  /** Ascending, evenly spaced, above 0. */
  readonly frequenciesHz: Float64Array;
  readonly channels: readonly ComplexLines[];
  /**
   * Rate of the samples behind the lines, on which the exact form of a sampled decay depends. A measured
   * frequency response is the limit of a rate far above its lines.
   */
  readonly sampleRateHz: number;
  /** Corner of the sensor's high pass where it is known: what it keeps of the blow decays at that rate. */
  readonly cornerHz?: number | null;
  /** Mean |noise|^2 of one line below which no fit is believed, one a channel; 0 where nothing is known. */
  readonly noisePower: readonly number[];
}

export interface ComplexLines {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** Interleaved parts; more lose less of the end (at most 1 in this many samples) and cost more. */
const FEWEST_PARTS = 32;
/** Smallest size that the transform takes. */
const SMALLEST_TRANSFORM = 8;

/**
 * Length to which {@link computeResponseLines} cuts a record, at most 3 % below `length`; 0 for less than 256
 * samples.
 */
export function chooseRecordLength(length: number): number {
  let size = SMALLEST_TRANSFORM;
  while (2 * size * FEWEST_PARTS <= length) size *= 2;
  return size * Math.floor(length / size);
}

/**
 * Computes X[k] = sum x[n] exp(-2 pi i k n / N) for k = 1..maximumHz N / sampleRateHz, with N the record's
 * own length (see {@link chooseRecordLength}) and no window: on exactly these lines a decay that is cut off
 * is still a rational function, which padding to a power of two would spoil. N = parts x size, so one step of
 * Cooley & Tukey (Math. Comp. 19, 1965, 297-301) over interleaved parts leads back to transforms of a power
 * of two, and only the lines in band are put together.
 * @param samples - 256 or more
 */
export function computeResponseLines(
  samples: Float64Array,
  sampleRateHz: number,
  maximumHz: number,
): ComplexLines {
  const length = chooseRecordLength(samples.length);
  let size = SMALLEST_TRANSFORM;
  while (2 * size * FEWEST_PARTS <= length) size *= 2;
  const parts = length / size;
  const lines = Math.min(Math.floor((maximumHz * length) / sampleRateHz), (length - 1) >> 1);
  const re = new Float64Array(lines);
  const im = new Float64Array(lines);
  const part = new Float64Array(size);
  const transformed = new Float64Array(size + 2);
  const half = size / 2;
  for (let p = 0; p < parts; p++) {
    for (let i = 0; i < size; i++) part[i] = samples[i * parts + p]!;
    transformReal(part, size, transformed);
    const turnRe = Math.cos((2 * Math.PI * p) / length);
    const turnIm = -Math.sin((2 * Math.PI * p) / length);
    let phaseRe = 1;
    let phaseIm = 0;
    for (let k = 1; k <= lines; k++) {
      const nextRe = phaseRe * turnRe - phaseIm * turnIm;
      phaseIm = phaseRe * turnIm + phaseIm * turnRe;
      phaseRe = nextRe;
      const wrapped = k % size;
      const mirrored = wrapped > half;
      const at = 2 * (mirrored ? size - wrapped : wrapped);
      const partRe = transformed[at]!;
      const partIm = mirrored ? -transformed[at + 1]! : transformed[at + 1]!;
      re[k - 1]! += partRe * phaseRe - partIm * phaseIm;
      im[k - 1]! += partRe * phaseIm + partIm * phaseRe;
    }
  }
  return { re, im };
}
