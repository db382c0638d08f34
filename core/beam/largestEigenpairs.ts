/** Finds the largest eigenvalues of one matrix after another and their vectors, without allocating. */
export type LargestEigenpairs = {
  /** Length `count`, descending. */
  readonly values: Float64Array;
  /** `count` unit vectors of length n. */
  readonly vectors: readonly Float64Array[];
  /** @param a - n x n row-major, symmetric; overwritten. False where the iteration did not end (not seen for finite input). */
  find(a: Float64Array): boolean;
};

/**
 * Largest eigenvalues and their vectors of real symmetric matrices of n rows: Householder reduction to tridiagonal
 * form, implicit QL for the values (Martin, Reinsch & Wilkinson 1968, Numer. Math. 11:181; Bowdler et al. 1968, 11:293; the
 * classical tred2 and tql1), and one twisted factorisation for each vector wanted (Parlett & Dhillon 1997, Linear Algebra
 * Appl. 267:247, from memory). Written out because the fit calls it thousands of times for four pairs of matrices of
 * ten to thirty rows, where a general library spends its time on allocation and on pairs that nobody asks for.
 * Assumes that the values wanted are distinct, as those of a beam in one plane are.
 */
export function createLargestEigenpairs(n: number, count: number): LargestEigenpairs {
  const d = new Float64Array(n);
  const e = new Float64Array(n);
  const diagonal = new Float64Array(n);
  const beside = new Float64Array(n);
  const forward = new Float64Array(n);
  const backward = new Float64Array(n);
  const reflections = new Float64Array(n);
  const values = new Float64Array(count);
  const vectors = Array.from({ length: count }, () => new Float64Array(n));

  /** Eigenvector of the tridiagonal matrix: factors from both ends that meet where the residual is least. */
  const findVector = (pair: number): void => {
    const z = vectors[pair]!;
    const value = values[pair]!;
    // stands for a pivot of nothing
    const least = Number.EPSILON * values[0]!;
    for (let i = 0; i < n; i++) {
      let pivot = diagonal[i]! - value;
      if (i > 0) pivot -= (beside[i]! * beside[i]!) / forward[i - 1]!;
      forward[i] = pivot === 0 ? least : pivot;
    }
    for (let i = n - 1; i >= 0; i--) {
      let pivot = diagonal[i]! - value;
      if (i < n - 1) pivot -= (beside[i + 1]! * beside[i + 1]!) / backward[i + 1]!;
      backward[i] = pivot === 0 ? least : pivot;
    }
    let twist = 0;
    let smallest = Number.POSITIVE_INFINITY;
    for (let i = 0; i < n; i++) {
      const residual = Math.abs(forward[i]! + backward[i]! - (diagonal[i]! - value));
      if (residual < smallest) {
        smallest = residual;
        twist = i;
      }
    }
    z[twist] = 1;
    for (let i = twist - 1; i >= 0; i--) z[i] = (-beside[i + 1]! * z[i + 1]!) / forward[i]!;
    for (let i = twist + 1; i < n; i++) z[i] = (-beside[i]! * z[i - 1]!) / backward[i]!;
  };

  const find = (a: Float64Array): boolean => {
    reduceToTridiagonal(n, a, d, e);
    reflections.set(d);
    for (let i = 0; i < n; i++) d[i] = diagonal[i] = a[i * n + i]!;
    beside.set(e);
    if (!iterateQl(n, d, e)) return false;
    for (let pair = 0; pair < count; pair++) {
      let best = 0;
      for (let j = 1; j < n; j++) if (d[j]! > d[best]!) best = j;
      values[pair] = d[best]!;
      d[best] = Number.NEGATIVE_INFINITY;
      findVector(pair);
      reflectBack(a, reflections, vectors[pair]!);
      normalise(vectors[pair]!);
    }
    return true;
  };
  return { values, vectors, find };
}

/**
 * Householder reduction. On return the tridiagonal matrix has its diagonal on that of v and e[i] between rows
 * i - 1 and i; row i of v holds the vector of reflection i below the diagonal, d[i] half of its squared length.
 */
function reduceToTridiagonal(n: number, v: Float64Array, d: Float64Array, e: Float64Array): void {
  for (let j = 0; j < n; j++) d[j] = v[j * n + n - 1]!;
  for (let i = n - 1; i > 0; i--) {
    let scale = 0;
    let h = 0;
    for (let k = 0; k < i; k++) scale += Math.abs(d[k]!);
    if (scale === 0) {
      e[i] = d[i - 1]!;
      for (let j = 0; j < i; j++) {
        d[j] = v[j * n + i - 1]!;
        v[j * n + i] = 0;
        v[i * n + j] = 0;
      }
    } else {
      for (let k = 0; k < i; k++) {
        d[k]! /= scale;
        h += d[k]! * d[k]!;
      }
      const f = d[i - 1]!;
      const g = f > 0 ? -Math.sqrt(h) : Math.sqrt(h);
      e[i] = scale * g;
      h -= f * g;
      d[i - 1] = f - g;
      for (let j = 0; j < i; j++) e[j] = 0;
      for (let j = 0; j < i; j++) {
        const dj = d[j]!;
        v[i * n + j] = dj;
        let sum = e[j]! + v[j * n + j]! * dj;
        for (let k = j + 1; k < i; k++) {
          sum += v[j * n + k]! * d[k]!;
          e[k]! += v[j * n + k]! * dj;
        }
        e[j] = sum;
      }
      let projection = 0;
      for (let j = 0; j < i; j++) {
        e[j]! /= h;
        projection += e[j]! * d[j]!;
      }
      const half = projection / (h + h);
      for (let j = 0; j < i; j++) e[j]! -= half * d[j]!;
      for (let j = 0; j < i; j++) {
        const dj = d[j]!;
        const ej = e[j]!;
        for (let k = j; k < i; k++) v[j * n + k]! -= dj * e[k]! + ej * d[k]!;
        d[j] = v[j * n + i - 1]!;
        v[j * n + i] = 0;
      }
    }
    d[i] = h;
  }
  e[0] = 0;
}

/** From the tridiagonal matrix's vector to that of the matrix that {@link reduceToTridiagonal} was given. */
function reflectBack(v: Float64Array, reflections: Float64Array, z: Float64Array): void {
  const n = z.length;
  for (let i = 1; i < n; i++) {
    const h = reflections[i]!;
    if (h === 0) continue;
    let g = 0;
    for (let k = 0; k < i; k++) g += v[i * n + k]! * z[k]!;
    g /= h;
    for (let k = 0; k < i; k++) z[k]! -= g * v[i * n + k]!;
  }
}

function normalise(z: Float64Array): void {
  let square = 0;
  for (let i = 0; i < z.length; i++) square += z[i]! * z[i]!;
  const scale = 1 / Math.sqrt(square);
  for (let i = 0; i < z.length; i++) z[i]! *= scale;
}

const MOST_QL_STEPS = 60;

/** Eigenvalues of a tridiagonal matrix into d, unordered; e is used up. */
function iterateQl(n: number, d: Float64Array, e: Float64Array): boolean {
  for (let i = 1; i < n; i++) e[i - 1] = e[i]!;
  e[n - 1] = 0;
  let shift = 0;
  let largest = 0;
  for (let l = 0; l < n; l++) {
    largest = Math.max(largest, Math.abs(d[l]!) + Math.abs(e[l]!));
    let m = l;
    while (m < n - 1 && Math.abs(e[m]!) > Number.EPSILON * largest) m++;
    if (m > l) {
      let steps = 0;
      do {
        if (++steps > MOST_QL_STEPS) return false;
        let g = d[l]!;
        let p = (d[l + 1]! - g) / (2 * e[l]!);
        let r = p < 0 ? -Math.sqrt(p * p + 1) : Math.sqrt(p * p + 1);
        d[l] = e[l]! / (p + r);
        d[l + 1] = e[l]! * (p + r);
        const next = d[l + 1]!;
        const h = g - d[l]!;
        for (let i = l + 2; i < n; i++) d[i]! -= h;
        shift += h;
        p = d[m]!;
        let c = 1;
        let c2 = 1;
        let c3 = 1;
        const el1 = e[l + 1]!;
        let s = 0;
        let s2 = 0;
        for (let i = m - 1; i >= l; i--) {
          c3 = c2;
          c2 = c;
          s2 = s;
          g = c * e[i]!;
          const hh = c * p;
          r = Math.sqrt(p * p + e[i]! * e[i]!);
          e[i + 1] = s * r;
          s = e[i]! / r;
          c = p / r;
          p = c * d[i]! - s * g;
          d[i + 1] = hh + s * (c * g + s * d[i]!);
        }
        p = (-s * s2 * c3 * el1 * e[l]!) / next;
        e[l] = s * p;
        d[l] = c * p;
      } while (Math.abs(e[l]!) > Number.EPSILON * largest);
    }
    d[l]! += shift;
    e[l] = 0;
  }
  return true;
}
