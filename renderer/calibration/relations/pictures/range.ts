import { formatSignificant } from '../../../words/index.ts';
import { ruleLine, spanOf } from './drawLinked.ts';
import { errorOf, showSigned } from './figures.ts';
import type { PictureKind } from './pictureKind.ts';

export const range: PictureKind = {
  title: 'Range',
  remark: 'beyond the line: unlike the rest',
  xTitle: 'Distance from the middle of the tests',
  yTitle: 'Error where left out, %',
  label: ({ tests, distanceLimit }) =>
    `Distance of ${tests.length} break tests from their middle over all predictors${distanceLimit === null ? '' : `; beyond ${formatSignificant(distanceLimit)} a pole is unlike them`}`,
  columns: ['Test', 'Distance from the middle', 'Error where left out'],
  cells: (test) => [formatSignificant(test.distance), showSigned(errorOf(test))],
  place(test) {
    const error = errorOf(test);
    return error === null ? null : { x: test.distance, y: 100 * error };
  },
  words: (test) => `distance ${formatSignificant(test.distance)}, error ${showSigned(errorOf(test))}`,
  ground(palette, points, { distanceLimit }) {
    const [, right] = spanOf([...points.map(({ x }) => x), distanceLimit ?? 1]);
    const [bottom, top] = spanOf(points.map(({ y }) => y));
    return {
      alsoX: [0, distanceLimit ?? 1],
      shapes: [
        ruleLine(palette, [0, 0], [right, 0], 'solid'),
        ...(distanceLimit === null ? [] : [ruleLine(palette, [distanceLimit, bottom], [distanceLimit, top])]),
      ],
    };
  },
};
