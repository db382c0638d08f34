import { convolveComplex } from './transformComplex.ts';
import { chooseTransformSize } from './transformReal.ts';

/** Evenly spaced frequencies, in cycles a sample. */
export interface ZoomLines {
  readonly start: number;
  readonly step: number;
  readonly count: number;
}

/**
 * Computes X(f) = sum x[n] exp(-2 pi i f n) at evenly spaced frequencies anywhere: the chirp-z transform on the
 * unit circle by convolution with a chirp (Bluestein 1970, IEEE Trans. Audio Electroacoust. 18(4):451-455;
 * Rabiner, Schafer and Rader 1969, 17(2):86-92).
 * @returns real and imaginary parts interleaved, 2 * count values
 */
export function transformZoomed(samples: Float64Array, { start, step, count }: ZoomLines): Float64Array {
  const length = samples.length;
  const size = chooseTransformSize(length + count - 1);
  const turned = new Float64Array(2 * size);
  const chirp = new Float64Array(2 * size);
  for (let n = 0; n < length; n++) {
    // n k = (n^2 + k^2 - (k - n)^2) / 2
    const angle = -2 * Math.PI * (start * n + (step * n * n) / 2);
    turned[2 * n] = samples[n]! * Math.cos(angle);
    turned[2 * n + 1] = samples[n]! * Math.sin(angle);
  }
  for (let n = 0; n < Math.max(length, count); n++) {
    const angle = Math.PI * step * n * n;
    const re = Math.cos(angle);
    const im = Math.sin(angle);
    if (n < count) {
      chirp[2 * n] = re;
      chirp[2 * n + 1] = im;
    }
    if (n > 0 && n < length) {
      chirp[2 * (size - n)] = re;
      chirp[2 * (size - n) + 1] = im;
    }
  }
  const convolved = convolveComplex(turned, chirp);
  const out = new Float64Array(2 * count);
  for (let k = 0; k < count; k++) {
    const angle = -Math.PI * step * k * k;
    const re = Math.cos(angle);
    const im = Math.sin(angle);
    out[2 * k] = convolved[2 * k]! * re - convolved[2 * k + 1]! * im;
    out[2 * k + 1] = convolved[2 * k]! * im + convolved[2 * k + 1]! * re;
  }
  return out;
}
