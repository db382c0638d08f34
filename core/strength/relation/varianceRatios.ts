import { Matrix, QrDecomposition } from 'ml-matrix';

/** Columns of one pooled factor: where they begin among the random effects, and how many levels there are. */
export type PooledFactor = { readonly first: number; readonly levels: number };

export type PooledModel = {
  /** Fixed columns, the first of them 1. */
  readonly columns: readonly (readonly number[])[];
  /** Columns of random effects, 0 or 1. */
  readonly effectColumns: readonly (readonly number[])[];
  readonly factors: readonly PooledFactor[];
  readonly response: readonly number[];
  readonly weights: readonly number[];
};

/** Ratios are looked for on theta = t / (1 - t), t from 0 to this: standard deviations between groups up to 50 times that of a residual. */
const GREATEST_T = 50 / 51;
const GRID = 24;
/** Golden-section steps leave 0.618^40 = 4e-9 of a cell. */
const GOLDEN_STEPS = 40;
const GOLDEN = (Math.sqrt(5) - 1) / 2;
/** Rounds over the factors, until none moves by more than this in t. */
const MOST_ROUNDS = 30;
const SETTLED = 1e-8;

/**
 * Finds the standard deviation between groups over that of a residual, for each pooled factor, by restricted maximum
 * likelihood: the least of log|L|^2 + log|R_X|^2 + (n - p) log(r^2) (Bates, Maechler, Bolker and Walker 2015, J. Stat. Softw. 67(1),
 * eq. 42), with L, R_X and r the diagonal blocks of one triangular factor. The tests are reduced to a small triangle once, so that their number does
 * not count in the search: on a grid first, then by golden sections, factor by factor.
 * @returns one ratio a factor; 0 where groups differ no more than their poles do
 */
export function findVarianceRatios(model: PooledModel): number[] {
  const criterion = restrictedDeviance(model);
  const ts = model.factors.map(() => 0.5);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let moved = 0;
    for (const k of ts.keys()) {
      const at = (t: number) => criterion(ts.map((other, j) => ratioOf(j === k ? t : other)));
      const best = leastOnGrid(at);
      moved = Math.max(moved, Math.abs(best - ts[k]!));
      ts[k] = best;
    }
    if (ts.length === 1 || moved < SETTLED) break;
  }
  return ts.map(ratioOf);
}

function ratioOf(t: number): number {
  return t / (1 - t);
}

function leastOnGrid(at: (t: number) => number): number {
  const cell = GREATEST_T / GRID;
  const values = Array.from({ length: GRID + 1 }, (_, i) => at(i * cell));
  const least = values.indexOf(Math.min(...values));
  let low = Math.max(0, least - 1) * cell;
  let high = Math.min(GRID, least + 1) * cell;
  let [left, right] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
  let [atLeft, atRight] = [at(left), at(right)];
  for (let step = 0; step < GOLDEN_STEPS; step++) {
    if (atLeft < atRight) {
      [high, right, atRight] = [right, left, atLeft];
      left = high - GOLDEN * (high - low);
      atLeft = at(left);
    } else {
      [low, left, atLeft] = [left, right, atRight];
      right = low + GOLDEN * (high - low);
      atRight = at(right);
    }
  }
  const inside = (low + high) / 2;
  // the least may lie at the end, where groups do not differ at all
  return at(0) <= at(inside) ? 0 : inside;
}

/** The criterion as a function of the ratios, up to a constant. */
function restrictedDeviance({
  columns,
  effectColumns,
  factors,
  response,
  weights,
}: PooledModel): (ratios: readonly number[]) => number {
  const effects = effectColumns[0]!.length;
  const fixed = columns[0]!.length;
  const means = columns[0]!.map((_, j) => columns.reduce((sum, row) => sum + row[j]!, 0) / columns.length);
  const lengths = means.map((mean, j) => Math.hypot(...columns.map((row) => row[j]! - mean)) || 1);
  const all = new Matrix(
    response.map((y, i) => {
      const root = Math.sqrt(weights[i]!);
      const scaled = columns[i]!.map((x, j) => (j === 0 ? x : (x - means[j]!) / lengths[j]!));
      return [...effectColumns[i]!, ...scaled, y].map((value) => root * value);
    }),
  );
  const width = effects + fixed + 1;
  const small = all.rows > width ? new QrDecomposition(all).upperTriangularMatrix : all;
  const freedom = response.length - fixed;
  return (ratios) => {
    const stacked = Matrix.zeros(small.rows + effects, width);
    stacked.setSubMatrix(small, 0, 0);
    for (const [k, { first, levels }] of factors.entries()) {
      for (let j = first; j < first + levels; j++) {
        for (let i = 0; i < small.rows; i++) stacked.set(i, j, small.get(i, j) * ratios[k]!);
        stacked.set(small.rows + j, j, 1);
      }
    }
    const diagonal = new QrDecomposition(stacked).upperTriangularMatrix.diagonal();
    const logSquare = (from: number, to: number) =>
      diagonal.slice(from, to).reduce((sum, r) => sum + 2 * Math.log(Math.abs(r)), 0);
    return logSquare(0, effects + fixed) + freedom * logSquare(effects + fixed, width);
  };
}
