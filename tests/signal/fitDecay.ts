import { Matrix, solve } from 'ml-matrix';

/** One decaying sine by least squares: a road of its own for what filters and windows do to a mode. */
export function fitDecay(
  samples: Float64Array,
  sampleRateHz: number,
  nearHz: number,
  nearRatio: number,
): { frequencyHz: number; dampingRatio: number } {
  let sigma = 2 * Math.PI * nearHz * nearRatio;
  let omega = 2 * Math.PI * nearHz * Math.sqrt(1 - nearRatio ** 2);
  let a = 0;
  let b = 0;
  for (let round = 0; round < 12; round++) {
    const rows: number[][] = [];
    const wanted: number[][] = [];
    samples.forEach((value, i) => {
      const t = i / sampleRateHz;
      const c = Math.exp(-sigma * t) * Math.cos(omega * t);
      const s = Math.exp(-sigma * t) * Math.sin(omega * t);
      // First round: amplitudes alone; then Gauss and Newton's steps in all four.
      rows.push(round === 0 ? [c, s] : [c, s, -t * (a * c + b * s), t * (b * c - a * s)]);
      wanted.push([value - a * c - b * s]);
    });
    const design = new Matrix(rows);
    const transposed = design.transpose();
    const step = solve(transposed.mmul(design), transposed.mmul(new Matrix(wanted))).getColumn(0);
    a += step[0]!;
    b += step[1]!;
    sigma += step[2] ?? 0;
    omega += step[3] ?? 0;
  }
  const natural = Math.hypot(sigma, omega);
  return { frequencyHz: natural / (2 * Math.PI), dampingRatio: sigma / natural };
}
