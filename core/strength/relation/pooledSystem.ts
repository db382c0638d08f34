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

/** A pooled model by its cross products: what it gives for any ratios, at a cost that does not grow with the tests. */
export type PooledSystem = {
  readonly factors: readonly PooledFactor[];
  /** Twice the negative logarithm of the restricted likelihood, up to a constant. */
  readonly deviance: (ratios: readonly number[]) => number;
  readonly solve: (ratios: readonly number[]) => PooledSolution;
};

export type PooledSolution = {
  /** Of the fixed columns, then of the random effects. */
  readonly coefficients: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  /** Of one pole about the relation. */
  readonly variance: number;
};

/**
 * Prepares a model with pooled groups for many ratios of the standard deviations between groups and within: cross products of columns that are
 * centred and brought to one length are made once, then scaled, penalised and factorised (Bates, Maechler, Bolker and Walker 2015, J. Stat.
 * Softw. 67(1), section 3). Good to some 8 digits; the fit itself goes by QR.
 */
export function preparePooled({
  columns,
  effectColumns,
  factors,
  response,
  weights,
}: PooledModel): PooledSystem {
  const effects = effectColumns[0]!.length;
  const fixed = columns[0]!.length;
  const rows = response.length;
  const width = effects + fixed;
  const y = scale(response);
  const scaled = columns[0]!.map((_, j) =>
    j === 0 ? { values: columns.map(() => 1), mean: 0, length: 1 } : scale(columns.map((row) => row[j]!)),
  );
  const all = new Matrix(
    response.map((_, i) => {
      const root = Math.sqrt(weights[i]!);
      const ofRow = [...effectColumns[i]!, ...scaled.map(({ values }) => values[i]!), y.values[i]!];
      return ofRow.map((value) => root * value);
    }),
  );
  const products = all.transpose().mmul(all);
  const factorOf = factors.flatMap(({ levels }, k) => Array<number>(levels).fill(k));

  const factorise = (ratios: readonly number[]) => {
    const of = (j: number) => (j < effects ? ratios[factorOf[j]!]! : 1);
    const penalised = Matrix.zeros(width + 1, width + 1);
    for (let i = 0; i <= width; i++) {
      for (let j = 0; j <= width; j++) penalised.set(i, j, products.get(i, j) * (of(i) * of(j)));
      if (i < effects) penalised.set(i, i, penalised.get(i, i) + 1);
    }
    const lower = new CholeskyDecomposition(penalised).lowerTriangularMatrix;
    return { penalised, lower, of };
  };

  return {
    factors,
    deviance(ratios) {
      const diagonal = factorise(ratios).lower.diagonal();
      const logSquare = (from: number, to: number) =>
        diagonal.slice(from, to).reduce((sum, r) => sum + 2 * Math.log(r), 0);
      return logSquare(0, width) + (rows - fixed) * logSquare(width, width + 1);
    },
    solve(ratios) {
      const { penalised, lower, of } = factorise(ratios);
      const decomposition = new CholeskyDecomposition(penalised.subMatrix(0, width - 1, 0, width - 1));
      const inverse = decomposition.solve(Matrix.eye(width));
      const solution = inverse.mmul(penalised.subMatrix(0, width - 1, width, width));
      const variance = lower.get(width, width) ** 2 / (rows - fixed);
      // back to columns as they came, fixed ones first; the response's mean goes to the intercept
      const back = Matrix.zeros(width, width);
      for (let j = 0; j < fixed; j++) {
        back.set(j, effects + j, 1 / scaled[j]!.length);
        if (j > 0) back.set(0, effects + j, -scaled[j]!.mean / scaled[j]!.length);
      }
      for (let j = 0; j < effects; j++) back.set(fixed + j, j, of(j));
      const coefficients = back.mmul(solution).mul(y.length).to1DArray();
      coefficients[0]! += y.mean;
      const covariance = back
        .mmul(inverse)
        .mmul(back.transpose())
        .mul(variance * y.length ** 2);
      return { coefficients, covariance: covariance.to2DArray(), variance: variance * y.length ** 2 };
    },
  };
}

/** Values less their mean, over their root mean square. */
function scale(values: readonly number[]): { values: number[]; mean: number; length: number } {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const length = Math.hypot(...values.map((value) => value - mean)) / Math.sqrt(values.length) || 1;
  return { values: values.map((value) => (value - mean) / length), mean, length };
}
