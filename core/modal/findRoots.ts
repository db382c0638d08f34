const ROUNDS = 60;
const TOLERANCE = 1e-12;

/** Complex roots of u^m + a[m-1] u^(m-1) + ... + a[0], all at once (Durand 1960, Kerner 1966; from memory). */
export function findRoots(a: readonly (readonly [number, number])[]): [number, number][] {
  const m = a.length;
  if (m === 1) return [[-a[0]![0], -a[0]![1]]];
  // usual start: powers of a number that is neither real nor of modulus 1
  const roots: [number, number][] = [];
  let seed: [number, number] = [1, 0];
  for (let i = 0; i < m; i++) {
    roots.push(seed);
    seed = [seed[0] * 0.4 - seed[1] * 0.9, seed[0] * 0.9 + seed[1] * 0.4];
  }
  for (let round = 0; round < ROUNDS; round++) {
    let moved = 0;
    for (let i = 0; i < m; i++) {
      const [x, y] = roots[i]!;
      let re = 1;
      let im = 0;
      for (let j = m - 1; j >= 0; j--) {
        const nextRe = re * x - im * y + a[j]![0];
        im = re * y + im * x + a[j]![1];
        re = nextRe;
      }
      for (let j = 0; j < m; j++) {
        if (j === i) continue;
        const dx = x - roots[j]![0];
        const dy = y - roots[j]![1];
        const size = dx * dx + dy * dy || Number.MIN_VALUE;
        const nextRe = (re * dx + im * dy) / size;
        im = (im * dx - re * dy) / size;
        re = nextRe;
      }
      roots[i] = [x - re, y - im];
      moved = Math.max(moved, Math.hypot(re, im));
    }
    if (moved < TOLERANCE) break;
  }
  return roots;
}
