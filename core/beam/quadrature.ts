type Rule = { readonly nodes: Float64Array; readonly weights: Float64Array };

const known = new Map<number, Rule>();

/** Nodes and weights of Gauss-Legendre quadrature on [0, 1], exact for polynomials to degree 2n - 1; made once for each n. */
export function gaussLegendre(n: number): Rule {
  const rule = known.get(n) ?? makeRule(n);
  known.set(n, rule);
  return rule;
}

/** Newton iteration on the Legendre recurrence (Abramowitz & Stegun 25.4.29, from memory). */
function makeRule(n: number): Rule {
  const nodes = new Float64Array(n);
  const weights = new Float64Array(n);
  const NEWTON_STEPS = 50;
  for (let i = 0; i < n; i++) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 0;
    for (let step = 0; step < NEWTON_STEPS; step++) {
      let p = 1;
      let previous = 0;
      for (let k = 1; k <= n; k++) {
        const next = ((2 * k - 1) * x * p - (k - 1) * previous) / k;
        previous = p;
        p = next;
      }
      slope = (n * (x * p - previous)) / (x * x - 1);
      const dx = p / slope;
      x -= dx;
      if (Math.abs(dx) < 1e-16) break;
    }
    nodes[i] = (1 - x) / 2;
    weights[i] = 1 / ((1 - x * x) * slope * slope);
  }
  return { nodes, weights };
}
