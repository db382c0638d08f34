/**
 * Eigenvalues and eigenvectors of a real symmetric matrix, in place and without allocation: Householder
 * reduction to tridiagonal form, then implicit QL (Martin, Reinsch & Wilkinson 1968, Numer. Math. 11:181,
 * and Bowdler et al. 1968, 11:293; the classical tred2 and tql2). Written out because the fit calls it
 * thousands of times for matrices of about twenty rows, where a general library spends its time on allocation.
 * @param n - rows
 * @param v - n x n row-major; on return column j is the eigenvector of d[j]
 * @param d - length n; on return the eigenvalues, unordered
 * @param e - length n, scratch
 * @returns false where the iteration did not end (not seen for finite input)
 */
export function symmetricEigen(n: number, v: Float64Array, d: Float64Array, e: Float64Array): boolean {
  reduceToTridiagonal(n, v, d, e);
  return iterateQl(n, v, d, e);
}

function reduceToTridiagonal(n: number, v: Float64Array, d: Float64Array, e: Float64Array): void {
  for (let j = 0; j < n; j++) d[j] = v[(n - 1) * n + j]!;
  for (let i = n - 1; i > 0; i--) {
    let scale = 0;
    let h = 0;
    for (let k = 0; k < i; k++) scale += Math.abs(d[k]!);
    if (scale === 0) {
      e[i] = d[i - 1]!;
      for (let j = 0; j < i; j++) {
        d[j] = v[(i - 1) * n + j]!;
        v[i * n + j] = 0;
        v[j * n + i] = 0;
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
        v[j * n + i] = dj;
        let sum = e[j]! + v[j * n + j]! * dj;
        for (let k = j + 1; k < i; k++) {
          sum += v[k * n + j]! * d[k]!;
          e[k]! += v[k * n + j]! * dj;
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
        for (let k = j; k < i; k++) v[k * n + j]! -= dj * e[k]! + ej * d[k]!;
        d[j] = v[(i - 1) * n + j]!;
        v[i * n + j] = 0;
      }
    }
    d[i] = h;
  }
  for (let i = 0; i < n - 1; i++) {
    v[(n - 1) * n + i] = v[i * n + i]!;
    v[i * n + i] = 1;
    const h = d[i + 1]!;
    if (h !== 0) {
      for (let k = 0; k <= i; k++) d[k] = v[k * n + i + 1]! / h;
      for (let j = 0; j <= i; j++) {
        let g = 0;
        for (let k = 0; k <= i; k++) g += v[k * n + i + 1]! * v[k * n + j]!;
        for (let k = 0; k <= i; k++) v[k * n + j]! -= g * d[k]!;
      }
    }
    for (let k = 0; k <= i; k++) v[k * n + i + 1] = 0;
  }
  for (let j = 0; j < n; j++) {
    d[j] = v[(n - 1) * n + j]!;
    v[(n - 1) * n + j] = 0;
  }
  v[n * n - 1] = 1;
  e[0] = 0;
}

const MOST_QL_STEPS = 60;

function iterateQl(n: number, v: Float64Array, d: Float64Array, e: Float64Array): boolean {
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
        let r = p < 0 ? -Math.hypot(p, 1) : Math.hypot(p, 1);
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
          for (let k = 0; k < n; k++) {
            const row = k * n + i;
            const a = v[row + 1]!;
            const b = v[row]!;
            v[row + 1] = s * b + c * a;
            v[row] = c * b - s * a;
          }
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
