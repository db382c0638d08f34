import FFT from 'fft.js';

/** fft.js takes powers of two from 4 on reliably; half of this goes through it. */
const SMALLEST_SIZE = 8;
/** Plans beyond this size would hold many megabytes for the life of the program, so they are not kept. */
const LARGEST_KEPT_SIZE = 2 ** 20;

interface Plan {
  readonly half: FFT;
  readonly packed: Float64Array;
  readonly transformed: Float64Array;
  /** Half of cos and sin of 2 pi k / size, interleaved, for k up to size / 4. */
  readonly twiddles: Float64Array;
}

/**
 * Tables of sines take longer to make than one transform takes; Welch and the spectrogram ask for the same
 * size hundreds of times. Sizes are powers of two, so that few plans are ever kept. Scratch arrays are safe
 * because a transform is not interrupted: this runs on one thread, and worker threads have a cache each.
 */
const plans = new Map<number, Plan>();

function takePlan(size: number): Plan {
  const kept = plans.get(size);
  if (kept !== undefined) return kept;
  const twiddles = new Float64Array(size / 2 + 2);
  for (let k = 0; k <= size / 4; k++) {
    twiddles[2 * k] = Math.cos((2 * Math.PI * k) / size) / 2;
    twiddles[2 * k + 1] = Math.sin((2 * Math.PI * k) / size) / 2;
  }
  const plan = {
    half: new FFT(size / 2),
    packed: new Float64Array(size),
    transformed: new Float64Array(size),
    twiddles,
  };
  if (size <= LARGEST_KEPT_SIZE) plans.set(size, plan);
  return plan;
}

/** Least power of two that holds `length` samples and that {@link transformReal} takes. */
export function chooseTransformSize(length: number): number {
  let size = SMALLEST_SIZE;
  while (size < length) size *= 2;
  return size;
}

/**
 * Computes the discrete Fourier transform of real samples, X[k] = sum x[n] exp(-2 pi i k n / size), for k =
 * 0..size/2. Fewer samples than `size` are padded with zeros at the end: fft.js takes powers of two only, and
 * padding moves no frequency; it samples the same spectrum more densely.
 *
 * The real transform is made of a complex one of half the length (Press et al., Numerical Recipes, 3rd ed.
 * 2007, section 12.3), some 1.2 times as fast as the real transform of fft.js. A result of many samples takes
 * half as long to allocate as to compute, so loops pass `into`.
 *
 * @param samples - at most `size` values
 * @param size - a power of two from 8 on; see {@link chooseTransformSize}
 * @param into - takes the result, size + 2 values. @default a new array
 * @returns real and imaginary parts interleaved, size + 2 values
 */
export function transformReal(
  samples: Float64Array,
  size: number,
  into: Float64Array = new Float64Array(size + 2),
): Float64Array {
  if (samples.length > size || size < SMALLEST_SIZE || !Number.isInteger(Math.log2(size))) {
    throw new RangeError(
      `transform size is ${size} for ${samples.length} samples; a power of two that holds them is expected`,
    );
  }
  const { half, packed, transformed, twiddles } = takePlan(size);
  if (samples.length === size) half.transform(transformed, samples);
  else {
    packed.set(samples);
    packed.fill(0, samples.length);
    half.transform(transformed, packed);
  }
  untangle(transformed, twiddles, size, into);
  return into;
}

/** Parts the transforms of even and odd samples, which the complex transform gives as one, and joins them. */
function untangle(
  transformed: ArrayLike<number>,
  twiddles: Float64Array,
  size: number,
  into: Float64Array,
): void {
  into[0] = transformed[0]! + transformed[1]!;
  into[1] = 0;
  into[size] = transformed[0]! - transformed[1]!;
  into[size + 1] = 0;
  for (let a = 2, b = size - 2; a <= b; a += 2, b -= 2) {
    const aRe = transformed[a]!;
    const aIm = transformed[a + 1]!;
    const bRe = transformed[b]!;
    const bIm = transformed[b + 1]!;
    const evenRe = 0.5 * (aRe + bRe);
    const evenIm = 0.5 * (aIm - bIm);
    const oddRe = aIm + bIm;
    const oddIm = bRe - aRe;
    const cos = twiddles[a]!;
    const sin = twiddles[a + 1]!;
    const turnedRe = oddRe * cos + oddIm * sin;
    const turnedIm = oddIm * cos - oddRe * sin;
    into[a] = evenRe + turnedRe;
    into[a + 1] = evenIm + turnedIm;
    into[b] = evenRe - turnedRe;
    into[b + 1] = turnedIm - evenIm;
  }
}
