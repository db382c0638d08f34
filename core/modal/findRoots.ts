const ROUNDS = 60;
const TOLERANCE = 1e-12;

/**
 * Complex roots of u^m + a[m-1] u^(m-1) + ... + a[0], all at once (Durand 1960, Kerner 1966; from memory).
 * @param a - real and imaginary parts
 */
export function findRoots(a: { readonly re: Float64Array; readonly im: Float64Array }): [number, number][] {
  const m = a.re.length;
  if (m === 1) return [[-a.re[0]!, -a.im[0]!]];
  // usual start: powers of a number that is neither real nor of modulus 1
  const rootsRe = new Float64Array(m);
  const rootsIm = new Float64Array(m);
  rootsRe[0] = 1;
  for (let i = 1; i < m; i++) {
    rootsRe[i] = rootsRe[i - 1]! * 0.4 - rootsIm[i - 1]! * 0.9;
    rootsIm[i] = rootsRe[i - 1]! * 0.9 + rootsIm[i - 1]! * 0.4;
  }
  for (let round = 0; round < ROUNDS; round++) {
    let moved = 0;
    for (let i = 0; i < m; i++) {
      const x = rootsRe[i]!;
      const y = rootsIm[i]!;
      let re = 1;
      let im = 0;
      for (let j = m - 1; j >= 0; j--) {
        const nextRe = re * x - im * y + a.re[j]!;
        im = re * y + im * x + a.im[j]!;
        re = nextRe;
      }
      // divided by the product of the distances from all other roots
      let overRe = 1;
      let overIm = 0;
      for (let j = 0; j < m; j++) {
        if (j === i) continue;
        const dx = x - rootsRe[j]!;
        const dy = y - rootsIm[j]!;
        const nextRe = overRe * dx - overIm * dy;
        overIm = overRe * dy + overIm * dx;
        overRe = nextRe;
      }
      const square = overRe * overRe + overIm * overIm || Number.MIN_VALUE;
      const stepRe = (re * overRe + im * overIm) / square;
      const stepIm = (im * overRe - re * overIm) / square;
      rootsRe[i] = x - stepRe;
      rootsIm[i] = y - stepIm;
      moved = Math.max(moved, stepRe * stepRe + stepIm * stepIm);
    }
    if (moved < TOLERANCE * TOLERANCE) break;
  }
  return Array.from(rootsRe, (re, i): [number, number] => [re, rootsIm[i]!]);
}
