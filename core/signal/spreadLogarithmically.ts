/** What brings a density over even frequencies to an axis that is even in their logarithm. */
export interface LogarithmicAxis {
  readonly frequencyHz: Float64Array;
  /** Mean density about each frequency; `density` holds the even bins. */
  resample(density: Float64Array): Float64Array;
}

/**
 * Lays out a logarithmic frequency axis. Each line takes the mean of the density, drawn straight between bins,
 * from half-way (in the logarithm) to its neighbours: no power is lost where lines are wider than bins, and
 * the curve is read between bins where they are narrower.
 * @param binHz - distance of the even bins, the first at 0 Hz
 * @param fromHz - first line, above zero
 * @param toHz - last line, above `fromHz` and at or below the last bin
 * @param lines - 2 or more
 */
export function spreadLogarithmically(
  binHz: number,
  fromHz: number,
  toHz: number,
  lines: number,
): LogarithmicAxis {
  const ratio = (toHz / fromHz) ** (1 / (lines - 1));
  const frequencyHz = Float64Array.from({ length: lines }, (_, i) => fromHz * ratio ** i);
  const edges = Float64Array.from({ length: lines + 1 }, (_, i) => {
    const edgeHz = fromHz * ratio ** (i - 0.5);
    return Math.min(edgeHz, toHz) / binHz;
  });
  return {
    frequencyHz,
    resample(density) {
      const sums = new Float64Array(density.length);
      for (let k = 1; k < density.length; k++) sums[k] = sums[k - 1]! + (density[k - 1]! + density[k]!) / 2;
      const integrate = (at: number): number => {
        const k = Math.min(Math.floor(at), density.length - 2);
        const share = at - k;
        return sums[k]! + share * (density[k]! + (share / 2) * (density[k + 1]! - density[k]!));
      };
      const out = new Float64Array(lines);
      for (let i = 0; i < lines; i++) {
        out[i] = (integrate(edges[i + 1]!) - integrate(edges[i]!)) / (edges[i + 1]! - edges[i]!);
      }
      return out;
    },
  };
}
