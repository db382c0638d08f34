import FFT from 'fft.js';

/** As in `transformReal.ts`: larger plans are not kept. */
const LARGEST_KEPT_SIZE = 2 ** 19;
const plans = new Map<number, FFT>();

function takePlan(size: number): FFT {
  const kept = plans.get(size);
  if (kept !== undefined) return kept;
  const plan = new FFT(size);
  if (size <= LARGEST_KEPT_SIZE) plans.set(size, plan);
  return plan;
}

/**
 * Computes the circular convolution of two complex sequences.
 * @param a - real and imaginary parts interleaved, as many values as `b`: 2 * a power of two from 4 on
 * @returns a new array of that length
 */
export function convolveComplex(a: Float64Array, b: Float64Array): Float64Array {
  const plan = takePlan(a.length / 2);
  const first = new Float64Array(a.length);
  const second = new Float64Array(a.length);
  plan.transform(first, a);
  plan.transform(second, b);
  for (let i = 0; i < a.length; i += 2) {
    const re = first[i]! * second[i]! - first[i + 1]! * second[i + 1]!;
    first[i + 1] = first[i]! * second[i + 1]! + first[i + 1]! * second[i]!;
    first[i] = re;
  }
  plan.inverseTransform(second, first);
  return second;
}
