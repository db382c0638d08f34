import { chooseTransformSize, countBins, transformReal } from './transformReal.ts';
import { takeWindow, type WindowKind } from './windows.ts';

/** How a record is cut into overlapping segments for Welch's method and the spectrogram. */
export interface SegmentOptions {
  readonly sampleRateHz: number;
  /**
   * Samples a segment; a longer one than the record is cut to the record. A power of two needs no padding.
   */
  readonly segmentLength: number;
  /** Samples shared by neighbours. @default half a segment, rounded down */
  readonly overlap?: number;
  /** @default 'hann' */
  readonly window?: WindowKind;
  /** Bins above are left out. @default half the sample rate */
  readonly maximumHz?: number;
}

export interface Segments {
  readonly length: number;
  readonly hop: number;
  readonly count: number;
  readonly frequencyHz: Float64Array;
  /** Adds the one-sided power density of segment `index` to `into`, starting at `offset`. */
  addPower(index: number, into: Float64Array, offset: number): void;
}

/**
 * Lays out the segments of a record and computes their one-sided power densities: each segment less its mean,
 * windowed, padded to a power of two, |X|^2 / (rate * sum w^2), doubled except at 0 Hz and half the rate
 * (Welch 1967, IEEE Trans. Audio Electroacoust. 15(2):70-73; scaling "density" of SciPy). Samples past the
 * last whole segment are left out. Summed over bins and times the bin width, the mean square of the windowed
 * segment comes back (Parseval).
 */
export function layOutSegments(samples: Float64Array, options: SegmentOptions): Segments {
  const { sampleRateHz, window = 'hann', maximumHz = sampleRateHz / 2 } = options;
  const length = Math.min(options.segmentLength, samples.length);
  const overlap = Math.min(options.overlap ?? length >> 1, length - 1);
  const hop = length - overlap;
  const count = Math.floor((samples.length - length) / hop) + 1;
  const weights = takeWindow(window, length);
  const size = chooseTransformSize(length);
  const bins = countBins(size, sampleRateHz / size, maximumHz);
  let squares = 0;
  for (let i = 0; i < length; i++) squares += weights[i]! ** 2;
  const scale = 1 / (sampleRateHz * squares);
  const frequencyHz = new Float64Array(bins);
  for (let k = 0; k < bins; k++) frequencyHz[k] = (k * sampleRateHz) / size;
  const weighted = new Float64Array(length);
  const transformed = new Float64Array(size + 2);

  const addPower = (index: number, into: Float64Array, offset: number): void => {
    const start = index * hop;
    const mean = sumUp(samples, start, start + length) / length;
    for (let i = 0; i < length; i++) weighted[i] = (samples[start + i]! - mean) * weights[i]!;
    transformReal(weighted, size, transformed);
    const twice = 2 * scale;
    // 0 Hz and half the rate stand once in the two-sided spectrum, all others twice.
    into[offset]! += scale * transformed[0]! ** 2;
    if (bins > size / 2) into[offset + size / 2]! += scale * transformed[size]! ** 2;
    for (let k = 1; k < Math.min(bins, size / 2); k++) {
      const re = transformed[2 * k]!;
      const im = transformed[2 * k + 1]!;
      into[offset + k]! += twice * (re * re + im * im);
    }
  };
  return { length, hop, count, frequencyHz, addPower };
}

/** Four sums, since one would wait for itself. */
function sumUp(samples: Float64Array, from: number, to: number): number {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let i = from;
  for (; i + 3 < to; i += 4) {
    s0 += samples[i]!;
    s1 += samples[i + 1]!;
    s2 += samples[i + 2]!;
    s3 += samples[i + 3]!;
  }
  for (; i < to; i++) s0 += samples[i]!;
  return s0 + s1 + (s2 + s3);
}
