/** Variance below this share of the whole is taken as silence, or its logarithm would outweigh everything. */
const SILENCE = 1e-8;
/** Fewer samples have no variance to speak of. */
const FEWEST = 2;

/**
 * Places an onset within a stretch: the split into two parts of steady variance that Akaike's information
 * criterion likes best, k log var(before) + (n - k) log var(after), summed over channels (Maeda 1985, Zisin
 * 38:365-379).
 * @returns index of the first sample after the split, within [from, to)
 */
export function pickOnset(channels: readonly Float64Array[], from: number, to: number): number {
  const count = to - from;
  const criterion = new Float64Array(count);
  for (const samples of channels) addCriterion(samples.subarray(from, to), criterion);
  let best = Math.min(FEWEST, count - 1);
  for (let k = best; k <= count - FEWEST; k++) if (criterion[k]! < criterion[best]!) best = k;
  return from + best;
}

function addCriterion(samples: Float64Array, into: Float64Array): void {
  const count = samples.length;
  // Everything is measured from the level at the start, for the part before the blow is at rest.
  const level = samples[0]!;
  let whole = 0;
  for (let i = 0; i < count; i++) whole += (samples[i]! - level) ** 2;
  if (whole === 0) return;
  const floor = (SILENCE * whole) / count;
  let before = 0;
  let beforeSum = 0;
  for (let k = 0; k < count; k++) {
    if (k >= FEWEST && k <= count - FEWEST) {
      const mean = beforeSum / k;
      const varianceBefore = Math.max(before / k - mean * mean, floor);
      const varianceAfter = Math.max((whole - before) / (count - k), floor);
      into[k] = into[k]! + k * Math.log(varianceBefore) + (count - k) * Math.log(varianceAfter);
    }
    const value = samples[k]! - level;
    before += value * value;
    beforeSum += value;
  }
}
