import { formatSignificant } from '../../../words/index.ts';
import type { JudgedTest } from '../../calibrationTypes.ts';
import { ruleLine, spanOf } from './drawLinked.ts';
import { megapascals, showMpa } from './figures.ts';
import type { PictureKind } from './pictureKind.ts';

/** Normal residuals lie within two standard deviations 19 times of 20. */
const USUAL_REACH = 2;

const showResidual = ({ residual }: JudgedTest) => (residual === null ? 'none' : formatSignificant(residual));

export const residuals: PictureKind = {
  title: 'Residuals',
  remark: 'most lie within ±2',
  xTitle: 'Fitted, MPa',
  yTitle: 'Residual',
  label: ({ tests }) =>
    `Residuals of ${tests.length} break tests over fitted strength: ${tests.filter(({ residual }) => Math.abs(residual ?? 0) > USUAL_REACH).length} beyond 2 standard deviations`,
  columns: ['Test', 'Fitted, MPa', 'Residual, standard deviations'],
  cells: (test) => [showMpa(test.fittedPa), showResidual(test)],
  place: ({ fittedPa, residual }) => (residual === null ? null : { x: megapascals(fittedPa), y: residual }),
  words: (test) => `residual ${showResidual(test)} at ${showMpa(test.fittedPa)} MPa`,
  ground(palette, points) {
    const [low, high] = spanOf(points.map(({ x }) => x));
    return {
      alsoY: [-USUAL_REACH, USUAL_REACH],
      shapes: [
        ruleLine(palette, [low, 0], [high, 0], 'solid'),
        ruleLine(palette, [low, USUAL_REACH], [high, USUAL_REACH]),
        ruleLine(palette, [low, -USUAL_REACH], [high, -USUAL_REACH]),
      ],
    };
  },
};

export const normalQuantiles: PictureKind = {
  title: 'Normal quantiles',
  remark: 'normal: on the line',
  xTitle: 'Normal quantile',
  yTitle: 'Residual',
  label: ({ tests }) =>
    `Residuals of ${tests.length} break tests against the quantiles of a normal distribution`,
  columns: ['Test', 'Normal quantile', 'Residual, standard deviations'],
  cells: (test) => [formatSignificant(test.normalQuantile), showResidual(test)],
  place: ({ normalQuantile, residual }) => (residual === null ? null : { x: normalQuantile, y: residual }),
  words: (test) =>
    `residual ${showResidual(test)}, normal quantile ${formatSignificant(test.normalQuantile)}`,
  ground(palette, points) {
    const [low, high] = spanOf(points.map(({ x }) => x));
    return { shapes: [ruleLine(palette, [low, low], [high, high])] };
  },
};
