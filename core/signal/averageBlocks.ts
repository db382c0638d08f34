/**
 * Lowers the sample rate by the mean of each block of `factor` samples. Unlike the filter of `decimate` it
 * lets nothing of an impact show before the impact, and it folds what lies above the new half rate: for
 * finding impacts, not for spectra.
 * @returns floor(length / factor) means; block i covers samples i * factor and on
 */
export function averageBlocks(samples: Float64Array, factor: number): Float64Array {
  const out = new Float64Array(Math.floor(samples.length / factor));
  for (let i = 0; i < out.length; i++) {
    let sum = 0;
    for (let j = i * factor; j < (i + 1) * factor; j++) sum += samples[j]!;
    out[i] = sum / factor;
  }
  return out;
}
