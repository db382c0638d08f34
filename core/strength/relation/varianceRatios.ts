import { CholeskyDecomposition, Matrix } from 'ml-matrix';

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
 * eq. 42), with L, R_X and r the diagonal blocks of one triangular factor of the cross products, so that the number of tests does
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

/** The criterion as a function of the ratios, up to a constant; by Cholesky factors of cross products, of centred and scaled columns. */
function restrictedDeviance({
  columns,
  effectColumns,
  factors,
  response,
  weights,
}: PooledModel): (ratios: readonly number[]) => number {
  const effects = effectColumns[0]!.length;
  const fixed = columns[0]!.length;
  const rows = response.length;
  const ys = scale(response);
  const scaled = columns[0]!.map((_, j) =>
    j === 0 ? columns.map(() => 1) : scale(columns.map((row) => row[j]!)),
  );
  const all = new Matrix(
    response.map((_, i) => {
      const root = Math.sqrt(weights[i]!);
      return [...effectColumns[i]!, ...scaled.map((column) => column[i]!), ys[i]!].map(
        (value) => root * value,
      );
    }),
  );
  const products = all.transpose().mmul(all);
  const width = effects + fixed + 1;
  const factorOf = factors.flatMap(({ levels }, k) => Array<number>(levels).fill(k));
  return (ratios) => {
    const of = (j: number) => (j < effects ? ratios[factorOf[j]!]! : 1);
    const penalised = Matrix.zeros(width, width);
    for (let i = 0; i < width; i++) {
      for (let j = 0; j < width; j++) penalised.set(i, j, products.get(i, j) * (of(i) * of(j)));
      if (i < effects) penalised.set(i, i, penalised.get(i, i) + 1);
    }
    const diagonal = new CholeskyDecomposition(penalised).lowerTriangularMatrix.diagonal();
    const logSquare = (from: number, to: number) =>
      diagonal.slice(from, to).reduce((sum, r) => sum + 2 * Math.log(r), 0);
    return logSquare(0, effects + fixed) + (rows - fixed) * logSquare(effects + fixed, width);
  };
}

/** Values less their mean, over their root mean square. */
function scale(values: readonly number[]): number[] {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const length = Math.hypot(...values.map((value) => value - mean)) || 1;
  return values.map((value) => ((value - mean) / length) * Math.sqrt(values.length));
}
