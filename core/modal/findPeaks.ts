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
 * before prominence. Two passes over the maxima with a stack of higher ground give all prominences in O(n).
 * @param values - any length, finite or -Infinity
 * @returns peaks in ascending index
 */
export function findPeaks(values: Float64Array, options: PeakOptions): Peak[] {
  const { minimumProminence, minimumDistance = 1 } = options;
  const maxima = findMaxima(values);
  const kept = thinByDistance(values, maxima, minimumDistance);
  const valleys = findValleys(values, maxima);
  const peaks: Peak[] = [];
  for (let i = 0; i < maxima.length; i++) {
    if (!kept[i]) continue;
    const index = maxima[i]!;
    const value = values[index]!;
    const prominence = value - valleys[i]!;
    if (prominence >= minimumProminence) peaks.push({ index, value, prominence });
  }
  return peaks;
}

function findMaxima(values: Float64Array): Int32Array {
  const maxima = new Int32Array(values.length >> 1);
  const last = values.length - 1;
  let count = 0;
  for (let i = 1; i < last; i++) {
    if (!(values[i - 1]! < values[i]!)) continue;
    const start = i;
    while (i < last && values[i + 1]! === values[i]!) i++;
    if (i < last && values[i + 1]! < values[i]!) maxima[count++] = (start + i) >> 1;
  }
  return maxima.slice(0, count);
}

/** 1 for each maximum that stays, 0 for one too near to a higher one that stays. */
function thinByDistance(values: Float64Array, maxima: Int32Array, minimumDistance: number): Uint8Array {
  const stays = new Uint8Array(maxima.length).fill(1);
  if (minimumDistance <= 1) return stays;
  const order = Array.from(maxima, (_, i) => i).sort(
    (a, b) => values[maxima[b]!]! - values[maxima[a]!]! || b - a,
  );
  for (const kept of order) {
    if (!stays[kept]) continue;
    const at = maxima[kept]!;
    for (let i = kept - 1; i >= 0 && at - maxima[i]! < minimumDistance; i--) stays[i] = 0;
    for (let i = kept + 1; i < maxima.length && maxima[i]! - at < minimumDistance; i++) stays[i] = 0;
  }
  return stays;
}

/**
 * For each maximum the higher of the two lowest values that part it from higher ground, or from the ends. Only
 * maxima can be higher ground, so the stacks hold maxima and the lows between them.
 */
function findValleys(values: Float64Array, maxima: Int32Array): Float64Array {
  const count = maxima.length;
  // Lowest value between maximum i - 1 (or the start) and maximum i; the last one lies behind all maxima.
  const lows = new Float64Array(count + 1);
  for (let i = 0, at = 0; i <= count; i++) {
    const end = i < count ? maxima[i]! : values.length;
    let lowest = values[at]!;
    for (; at < end; at++) if (values[at]! < lowest) lowest = values[at]!;
    lows[i] = lowest;
  }
  const valleys = new Float64Array(count);
  const heights = new Float64Array(count);
  const lowest = new Float64Array(count);
  const walk = (i: number, low: number, depth: number): number => {
    const height = values[maxima[i]!]!;
    let top = depth;
    let least = low;
    while (top > 0 && heights[top - 1]! <= height) {
      top--;
      if (lowest[top]! < least) least = lowest[top]!;
    }
    heights[top] = height;
    lowest[top] = least;
    return top;
  };
  for (let i = 0, depth = 0; i < count; i++) {
    depth = walk(i, lows[i]!, depth);
    valleys[i] = lowest[depth++]!;
  }
  for (let i = count - 1, depth = 0; i >= 0; i--) {
    depth = walk(i, lows[i + 1]!, depth);
    valleys[i] = Math.max(valleys[i]!, lowest[depth++]!);
  }
  return valleys;
}
