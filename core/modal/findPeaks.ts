/** One local maximum: where it is, how high, and how far it stands out of its surroundings. */
export interface Peak {
  /** Index of the sample; the middle one (rounded down) of a flat top. */
  readonly index: number;
  readonly value: number;
  /**
   * Height above the higher of the two valleys that part the peak from higher ground or from the end of the
   * data.
   */
  readonly prominence: number;
}

export interface PeakOptions {
  /** In the unit of the values. */
  readonly minimumProminence: number;
  /** Samples between kept peaks at least; the higher peak wins, of equal ones the later. @default 1 */
  readonly minimumDistance?: number;
}

/**
 * Finds local maxima by prominence, as defined by scipy.signal.find_peaks: a maximum is one sample or a flat
 * top that is strictly higher than both neighbours; the ends of the data are no maxima; distance is applied
 * before prominence. Two passes with a stack of higher ground give all prominences in O(n).
 * @param values - any length, finite or -Infinity
 * @returns peaks in ascending index
 */
export function findPeaks(values: Float64Array, options: PeakOptions): Peak[] {
  const { minimumProminence, minimumDistance = 1 } = options;
  const maxima = thinByDistance(values, findMaxima(values), minimumDistance);
  if (maxima.length === 0) return [];
  const leftValley = lowestSinceHigherGround(values);
  const rightValley = lowestSinceHigherGround(values.toReversed()).reverse();
  const peaks: Peak[] = [];
  for (const index of maxima) {
    const value = values[index]!;
    const prominence = value - Math.max(leftValley[index]!, rightValley[index]!);
    if (prominence >= minimumProminence) peaks.push({ index, value, prominence });
  }
  return peaks;
}

function findMaxima(values: Float64Array): number[] {
  const maxima: number[] = [];
  let i = 1;
  while (i < values.length - 1) {
    if (values[i - 1]! < values[i]!) {
      let end = i;
      while (end < values.length - 1 && values[end + 1]! === values[i]!) end++;
      if (end < values.length - 1 && values[end + 1]! < values[i]!) maxima.push((i + end) >> 1);
      i = end;
    }
    i++;
  }
  return maxima;
}

function thinByDistance(values: Float64Array, maxima: number[], minimumDistance: number): number[] {
  if (minimumDistance <= 1) return maxima;
  const order = maxima.map((_, i) => i).sort((a, b) => values[maxima[b]!]! - values[maxima[a]!]! || b - a);
  const dropped = new Uint8Array(maxima.length);
  for (const kept of order) {
    if (dropped[kept]) continue;
    const at = maxima[kept]!;
    for (let i = kept - 1; i >= 0 && at - maxima[i]! < minimumDistance; i--) dropped[i] = 1;
    for (let i = kept + 1; i < maxima.length && maxima[i]! - at < minimumDistance; i++) dropped[i] = 1;
  }
  return maxima.filter((_, i) => !dropped[i]);
}

/** For each sample the lowest value met when walking left until a strictly higher sample. */
function lowestSinceHigherGround(values: Float64Array): Float64Array {
  const lowest = Float64Array.from(values);
  const higher = new Int32Array(values.length);
  let depth = 0;
  for (let i = 0; i < values.length; i++) {
    while (depth > 0 && values[higher[depth - 1]!]! <= values[i]!) {
      depth--;
      lowest[i] = Math.min(lowest[i]!, lowest[higher[depth]!]!);
    }
    higher[depth++] = i;
  }
  return lowest;
}
