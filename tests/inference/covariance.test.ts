import fc from 'fast-check';
import { determinant, inverse as invertByLibrary, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { addInputs, createInverter, factorLower, solveFactored } from '../../core/inference/covariance.ts';

const square = (n: number) =>
  fc.array(fc.double({ min: -3, max: 3, noNaN: true }), { minLength: n * n, maxLength: n * n });

describe('covariance of the data of a fit', () => {
  it('is inverted as ml-matrix inverts it, one after another in the same room', () => {
    const { inverse, invert } = createInverter(3);
    fc.assert(
      fc.property(square(3), (values) => {
        const rows = [0, 1, 2].map((i) => Float64Array.from(values.slice(3 * i, 3 * i + 3)));
        const matrix = addInputs(Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1), rows);
        const dense = Matrix.from1DArray(3, 3, matrix);
        expect(invert(matrix)).toBeCloseTo(Math.log(determinant(dense)), 9);
        const expected = invertByLibrary(dense).to1DArray();
        expected.forEach((value, i) => {
          expect(inverse[i]).toBeCloseTo(value, 9);
        });
        const solved = solveFactored(factorLower(matrix, 3), [1, 2, 3]);
        [0, 1, 2].forEach((i) => {
          expect(solved[i]).toBeCloseTo(
            expected[3 * i]! + 2 * expected[3 * i + 1]! + 3 * expected[3 * i + 2]!,
            8,
          );
        });
      }),
    );
  });

  it.each([
    ['not positive definite', Float64Array.of(1, 2, 2, 1)],
    ['not finite', Float64Array.of(1, Number.NaN, Number.NaN, 1)],
  ])('is refused where it is %s, and not taken half factored', (_, matrix) => {
    expect(() => createInverter(2).invert(matrix)).toThrow(/2 data .* not positive definite/);
    expect(() => factorLower(matrix, 2)).toThrow(/2 data .* not positive definite/);
  });
});
