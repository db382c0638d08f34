import { formatSignificant } from '../../../words/index.ts';
import { ruleLine, spanOf } from './drawLinked.ts';
import type { PictureKind } from './pictureKind.ts';

export const influence: PictureKind = {
  title: 'Influence',
  remark: 'look beyond the lines',
  xTitle: 'Leverage: how unusual the pole is',
  yTitle: 'Cook’s distance: its pull',
  label: ({ tests, influenceLimits }) =>
    `Leverage and Cook’s distance of ${tests.length} break tests: ${tests.filter(({ cooksDistance }) => (cooksDistance ?? Number.POSITIVE_INFINITY) > influenceLimits.cooksDistance).length} pull the relation by themselves`,
  columns: ['Test', 'Leverage: how unusual the pole is', 'Cook’s distance: how far it pulls the relation'],
  cells: ({ leverage, cooksDistance }) => [
    formatSignificant(leverage),
    cooksDistance === null ? 'without limit' : formatSignificant(cooksDistance),
  ],
  place: ({ leverage, cooksDistance }) => (cooksDistance === null ? null : { x: leverage, y: cooksDistance }),
  words: ({ leverage, cooksDistance }) =>
    `leverage ${formatSignificant(leverage)}, Cook’s distance ${formatSignificant(cooksDistance)}`,
  ground(palette, points, { influenceLimits: { leverage, cooksDistance } }) {
    const [, right] = spanOf([...points.map(({ x }) => x), leverage]);
    const [, top] = spanOf([...points.map(({ y }) => y), cooksDistance]);
    return {
      alsoX: [0, leverage],
      alsoY: [0, cooksDistance],
      shapes: [
        ruleLine(palette, [leverage, 0], [leverage, top]),
        ruleLine(palette, [0, cooksDistance], [right, cooksDistance]),
      ],
    };
  },
};
