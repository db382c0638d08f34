import { Matrix, QrDecomposition, solve } from 'ml-matrix';
import { FitError } from '../../errors.ts';

/** A linear model: one row of `columns` and one response a test. */
export type LinearModel = {
  /** Rows of the design; the first column is 1. */
  readonly columns: readonly (readonly number[])[];
  /** Names of the columns, for messages. */
  readonly terms: readonly string[];
  readonly response: readonly number[];
  /** Precisions of the rows. @default 1 */
  readonly weights?: readonly number[];
  /** Columns 0 or 1 of random effects, and the standard deviation of each effect over that of a residual. @default none */
  readonly effects?: {
    readonly columns: readonly (readonly number[])[];
    readonly ratios: readonly number[];
  };
};

export type LeastSquares = {
  /** Of the columns, then of the random effects. */
  readonly coefficients: readonly number[];
  /** (A^T W A + penalty)^-1 in the same order; times the residual variance it is the covariance of coefficients, and of random effects less their truth. */
  readonly unscaledCovariance: readonly (readonly number[])[];
  readonly fitted: readonly number[];
  readonly residuals: readonly number[];
  /** Diagonal of the matrix that takes responses to fitted values. */
  readonly leverages: readonly number[];
  /** Weighted sum of squared residuals, and of squared effects over their ratios. */
  readonly penalisedSquares: number;
};

/** A column, of unit length, that is this near to a combination of those before it adds nothing that could be told from rounding. */
const LEAST_INDEPENDENCE = 1e-9;

/**
 * Solves linear least squares by Householder QR (ml-matrix), over columns that are centred by their weighted means and brought to unit
 * length first: Longley's data keep 10 digits. Random effects enter as a penalty, by rows added below (Bates, Maechler, Bolker and
 * Walker 2015, J. Stat. Softw. 67(1), section 3).
 * @throws FitError `relation.collinear` naming the column that others make up
 */
export function leastSquares(model: LinearModel): LeastSquares {
  const { columns, terms, response, effects } = model;
  const rows = response.length;
  const weights = model.weights ?? response.map(() => 1);
  const roots = weights.map(Math.sqrt);
  const count = terms.length;
  const scaling = scaleColumns(columns, weights, count);
  const ratios = effects?.ratios ?? [];
  const design = Matrix.zeros(rows + ratios.length, count + ratios.length);
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < count; j++) {
      const centred = columns[i]![j]! - (j === 0 ? 0 : scaling.means[j]!);
      design.set(i, j, (roots[i]! * centred) / scaling.lengths[j]!);
    }
    for (const [j, ratio] of ratios.entries()) {
      design.set(i, count + j, roots[i]! * effects!.columns[i]![j]! * ratio);
    }
  }
  for (const j of ratios.keys()) design.set(rows + j, count + j, 1);
  const qr = new QrDecomposition(design);
  const upper = qr.upperTriangularMatrix;
  refuseCollinear(upper, terms);
  const target = Matrix.columnVector([...response.map((y, i) => y * roots[i]!), ...ratios.map(() => 0)]);
  const orthogonal = qr.orthogonalMatrix;
  const inverse = solve(upper, Matrix.eye(upper.rows));
  const scaled = inverse.mmul(orthogonal.transpose().mmul(target));
  const back = backTransform(scaling, ratios);
  const coefficients = back.mmul(scaled).to1DArray();
  const halfCovariance = back.mmul(inverse);
  const ofDesign = design.mmul(scaled).to1DArray();
  const fitted = roots.map((root, i) => ofDesign[i]! / root);
  const residuals = response.map((y, i) => y - fitted[i]!);
  const penalty = ratios.reduce((sum, _, j) => sum + scaled.get(count + j, 0) ** 2, 0);
  return {
    coefficients,
    unscaledCovariance: halfCovariance.mmul(halfCovariance.transpose()).to2DArray(),
    fitted,
    residuals,
    leverages: residuals.map((_, i) => orthogonal.getRow(i).reduce((sum, q) => sum + q * q, 0)),
    penalisedSquares: residuals.reduce((sum, e, i) => sum + weights[i]! * e * e, 0) + penalty,
  };
}

type Scaling = { readonly means: readonly number[]; readonly lengths: readonly number[] };

function scaleColumns(columns: LinearModel['columns'], weights: readonly number[], count: number): Scaling {
  const total = weights.reduce((sum, w) => sum + w, 0);
  const over = (value: (row: readonly number[]) => number) =>
    columns.reduce((sum, row, i) => sum + weights[i]! * value(row), 0);
  const means = Array.from({ length: count }, (_, j) => over((row) => row[j]!) / total);
  const lengths = means.map(
    (mean, j) => Math.sqrt(over((row) => (row[j]! - (j === 0 ? 0 : mean)) ** 2)) || 1,
  );
  return { means, lengths };
}

/** From coefficients of centred, scaled columns to those of the columns as they came. */
function backTransform({ means, lengths }: Scaling, ratios: readonly number[]): Matrix {
  const back = Matrix.diag([...lengths.map((length) => 1 / length), ...ratios]);
  for (let j = 1; j < means.length; j++) back.set(0, j, -means[j]! / lengths[j]!);
  return back;
}

function refuseCollinear(upper: Matrix, terms: readonly string[]): void {
  for (const [j, term] of terms.entries()) {
    if (Math.abs(upper.get(j, j)) > LEAST_INDEPENDENCE) continue;
    throw new FitError(
      'relation.collinear',
      `"${term}" says nothing that the terms before it do not say: over these tests it is constant or a combination of them.`,
      'Leave it out, or add tests in which it varies by itself.',
    );
  }
}
