import { createKernel, type Kernel, listTurns } from '../kernel/index.ts';

/** Half of the smallest size still makes one pass of four. */
const SMALLEST_SIZE = 8;
/** Plans and memory beyond this size would hold many megabytes for the life of the program, so they are not kept. */
const LARGEST_KEPT_SIZE = 2 ** 20;

interface Plan {
  readonly kernel: Kernel;
  /** The samples with zeros behind them. */
  readonly padded: Float64Array;
  /** Turns of the first pass: of two, cos and sin of -2 pi p / points; of four, as {@link listTurns}. */
  readonly firstTurns: Float64Array;
  readonly isFirstOfTwo: boolean;
  /** Half of cos and sin of 2 pi k / size, interleaved, for k up to size / 4. */
  readonly twiddles: Float64Array;
}

/**
 * Tables of sines take longer to make than one transform takes; Welch and the spectrogram ask for the same
 * size hundreds of times. Sizes are powers of two, so that few plans are ever kept. Scratch arrays are safe
 * because a transform is not interrupted: this runs on one thread, and worker threads have a cache each.
 */
const plans = new Map<number, Plan>();
let keptKernel: Kernel | null = null;

function takePlan(size: number): Plan {
  const kept = plans.get(size);
  if (kept !== undefined) return kept;
  if (size > LARGEST_KEPT_SIZE) return makePlan(size, createKernel());
  keptKernel ??= createKernel();
  const plan = makePlan(size, keptKernel);
  plans.set(size, plan);
  return plan;
}

function makePlan(size: number, kernel: Kernel): Plan {
  const points = size / 2;
  const twiddles = new Float64Array(size / 2 + 2);
  for (let k = 0; k <= size / 4; k++) {
    twiddles[2 * k] = Math.cos((2 * Math.PI * k) / size) / 2;
    twiddles[2 * k + 1] = Math.sin((2 * Math.PI * k) / size) / 2;
  }
  const isFirstOfTwo = Math.log2(points) % 2 === 1;
  const firstTurns = isFirstOfTwo ? new Float64Array(points) : listTurns(points);
  for (let p = 0; isFirstOfTwo && p < points / 2; p++) {
    firstTurns[2 * p] = Math.cos((-2 * Math.PI * p) / points);
    firstTurns[2 * p + 1] = Math.sin((-2 * Math.PI * p) / points);
  }
  return { kernel, padded: new Float64Array(size), firstTurns, isFirstOfTwo, twiddles };
}

/** Least power of two that holds `length` samples and that {@link transformReal} takes. */
export function chooseTransformSize(length: number): number {
  let size = SMALLEST_SIZE;
  while (size < length) size *= 2;
  return size;
}

/** Bins from 0 Hz up to `maximumHz`, that one included, of a transform of real samples. */
export function countBins(size: number, binHz: number, maximumHz: number): number {
  return Math.min(Math.floor(maximumHz / binHz), size / 2) + 1;
}

/**
 * Computes the discrete Fourier transform of real samples, X[k] = sum x[n] exp(-2 pi i k n / size), for k =
 * 0..size/2. Fewer samples than `size` are padded with zeros at the end: powers of two only are taken, and
 * padding moves no frequency; it samples the same spectrum more densely.
 *
 * The real transform is made of a complex one of half the length (Press et al., Numerical Recipes, 3rd ed.
 * 2007, section 12.3). The first pass, of two or of four, reads the samples; passes of four in a compiled kernel
 * (`core/kernel/passFour.wat`) do the rest, in half the time of fft.js. A result of many samples takes
 * longer to allocate than to compute, so loops pass `into`.
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
  const { kernel, padded, firstTurns, isFirstOfTwo, twiddles } = takePlan(size);
  let whole = samples;
  if (samples.length < size) {
    padded.set(samples);
    padded.fill(0, samples.length);
    whole = padded;
  }
  const points = size / 2;
  const { input, run } = kernel(points, points / (isFirstOfTwo ? 2 : 4));
  if (isFirstOfTwo) passTwo(whole, firstTurns, input.re, input.im);
  else passFour(whole, firstTurns, input.re, input.im);
  const { re, im } = run();
  untangle(re, im, twiddles, into);
  return into;
}

/** First pass by twos over complex values whose parts are interleaved. */
function passTwo(values: Float64Array, turns: Float64Array, re: Float64Array, im: Float64Array): void {
  const half = re.length;
  for (let p = 0, at = 0; at < half; p++, at += 2) {
    const aRe = values[at]!;
    const aIm = values[at + 1]!;
    const bRe = values[half + at]!;
    const bIm = values[half + at + 1]!;
    const apartRe = aRe - bRe;
    const apartIm = aIm - bIm;
    const turnRe = turns[at]!;
    const turnIm = turns[at + 1]!;
    re[2 * p] = aRe + bRe;
    im[2 * p] = aIm + bIm;
    re[2 * p + 1] = apartRe * turnRe - apartIm * turnIm;
    im[2 * p + 1] = apartRe * turnIm + apartIm * turnRe;
  }
}

/** First pass by fours over complex values whose parts are interleaved; see `core/kernel/passFour.wat`. */
function passFour(values: Float64Array, turns: Float64Array, re: Float64Array, im: Float64Array): void {
  const quarter = re.length / 2;
  for (let at = 0, t = 0, out = 0; at < quarter; at += 2, t += 6, out += 4) {
    const aRe = values[at]!;
    const aIm = values[at + 1]!;
    const bRe = values[at + quarter]!;
    const bIm = values[at + quarter + 1]!;
    const cRe = values[at + 2 * quarter]!;
    const cIm = values[at + 2 * quarter + 1]!;
    const dRe = values[at + 3 * quarter]!;
    const dIm = values[at + 3 * quarter + 1]!;
    const evenRe = aRe + cRe;
    const evenIm = aIm + cIm;
    const apartRe = aRe - cRe;
    const apartIm = aIm - cIm;
    const oddRe = bRe + dRe;
    const oddIm = bIm + dIm;
    const turnedRe = bIm - dIm;
    const turnedIm = dRe - bRe;
    re[out] = evenRe + oddRe;
    im[out] = evenIm + oddIm;
    let x = apartRe + turnedRe;
    let y = apartIm + turnedIm;
    re[out + 1] = x * turns[t]! - y * turns[t + 1]!;
    im[out + 1] = x * turns[t + 1]! + y * turns[t]!;
    x = evenRe - oddRe;
    y = evenIm - oddIm;
    re[out + 2] = x * turns[t + 2]! - y * turns[t + 3]!;
    im[out + 2] = x * turns[t + 3]! + y * turns[t + 2]!;
    x = apartRe - turnedRe;
    y = apartIm - turnedIm;
    re[out + 3] = x * turns[t + 4]! - y * turns[t + 5]!;
    im[out + 3] = x * turns[t + 5]! + y * turns[t + 4]!;
  }
}

/** Parts the transforms of even and odd samples, which the complex transform gives as one, and joins them. */
function untangle(re: Float64Array, im: Float64Array, twiddles: Float64Array, into: Float64Array): void {
  const points = re.length;
  into[0] = re[0]! + im[0]!;
  into[1] = 0;
  into[2 * points] = re[0]! - im[0]!;
  into[2 * points + 1] = 0;
  for (let a = 1, b = points - 1; a <= b; a++, b--) {
    const aRe = re[a]!;
    const aIm = im[a]!;
    const bRe = re[b]!;
    const bIm = im[b]!;
    const evenRe = 0.5 * (aRe + bRe);
    const evenIm = 0.5 * (aIm - bIm);
    const oddRe = aIm + bIm;
    const oddIm = bRe - aRe;
    const cos = twiddles[2 * a]!;
    const sin = twiddles[2 * a + 1]!;
    const turnedRe = oddRe * cos + oddIm * sin;
    const turnedIm = oddIm * cos - oddRe * sin;
    into[2 * a] = evenRe + turnedRe;
    into[2 * a + 1] = evenIm + turnedIm;
    into[2 * b] = evenRe - turnedRe;
    into[2 * b + 1] = turnedIm - evenIm;
  }
}
