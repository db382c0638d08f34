/** Local maxima in ascending order: where they are, and how far they stand out of their surroundings. */
export interface Peaks {
  /** Of the sample; the middle one (rounded down) of a flat top. */
  readonly index: Int32Array;
  /**
   * Height above the higher of the two valleys that part a peak from higher ground or from the end of the
   * data.
   */
  readonly prominence: Float64Array;
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
 * before prominence. One pass over the maxima with a stack of higher ground gives all prominences in O(n).
 * @param values - any length, finite or -Infinity
 */
export function findPeaks(values: Float64Array, options: PeakOptions): Peaks {
  const { minimumProminence, minimumDistance = 1 } = options;
  const maxima = findMaxima(values);
  const kept = thinByDistance(values, maxima.index, minimumDistance);
  const prominences = measureProminences(values, maxima);
  const index = new Int32Array(prominences.length);
  const prominence = new Float64Array(prominences.length);
  let count = 0;
  for (let i = 0; i < prominences.length; i++) {
    // written at once and counted where it stays, since noise would lead a branch astray
    index[count] = maxima.index[i]!;
    prominence[count] = prominences[i]!;
    count += kept[i]! & Number(prominences[i]! >= minimumProminence);
  }
  return { index: index.slice(0, count), prominence: prominence.slice(0, count) };
}

interface Maxima {
  readonly index: Int32Array;
  /** Lowest value between maximum i - 1 (or the start) and maximum i; the last one lies behind all maxima. */
  readonly lows: Float64Array;
}

function findMaxima(values: Float64Array): Maxima {
  const index = new Int32Array((values.length >> 1) + 1);
  const lows = new Float64Array((values.length >> 1) + 2);
  const last = values.length - 1;
  let count = 0;
  let low = Number.POSITIVE_INFINITY;
  for (let i = 0; i <= last; i++) {
    const here = values[i]!;
    if (!(i > 0 && i < last && values[i - 1]! < here && values[i + 1]! <= here)) {
      low = Math.min(low, here);
      continue;
    }
    const start = i;
    while (i < last && values[i + 1]! === here) i++;
    if (i === last || values[i + 1]! > here) continue;
    index[count] = (start + i) >> 1;
    lows[count++] = low;
    low = here;
  }
  lows[count] = low;
  return { index: index.slice(0, count), lows };
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
 * For each maximum its height over the higher of the two lowest values that part it from higher ground, or from
 * the ends. Only maxima can be higher ground, so the stack holds maxima that nothing after them has outgrown yet,
 * the highest first, and the lows between them.
 */
function measureProminences(values: Float64Array, { index, lows }: Maxima): Float64Array {
  const count = index.length;
  const prominences = new Float64Array(count);
  const stack = new Int32Array(count);
  const heights = new Float64Array(count);
  /** Lowest value between a maximum of the stack and the one before it there. */
  const lowBefore = new Float64Array(count);
  /** Lowest value between it and higher ground on the left; equals see past each other. */
  const leftValley = new Float64Array(count);
  let top = -1;
  for (let i = 0; i <= count; i++) {
    const height = i < count ? values[index[i]!]! : Number.POSITIVE_INFINITY;
    let low = lows[i]!;
    for (; top >= 0 && heights[top]! < height; top--) {
      prominences[stack[top]!] = heights[top]! - Math.max(leftValley[top]!, low);
      low = Math.min(low, lowBefore[top]!);
    }
    if (i === count) break;
    top++;
    stack[top] = i;
    heights[top] = height;
    lowBefore[top] = low;
    const seesPast = top > 0 && heights[top - 1] === height && leftValley[top - 1]! < low;
    leftValley[top] = seesPast ? leftValley[top - 1]! : low;
  }
  return prominences;
}
