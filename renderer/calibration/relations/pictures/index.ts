/*
 * The linked pictures of a relation: each is a kind that says where a test lies and what to look for; one drawing
 * serves all.
 */
import { influence } from './influence.ts';
import { measured } from './measured.ts';
import type { PictureKind } from './pictureKind.ts';
import { range } from './range.ts';
import { normalQuantiles, residuals } from './residuals.ts';

export { framesOf, SYMBOLS, spanOf } from './drawLinked.ts';
export { errorOf, showMpa, showShare, showSigned } from './figures.ts';
export { drawPicture, type PictureKind, type TestWords, tableOf } from './pictureKind.ts';

/** In the order of the grid; the learning curve stands last, on its own. */
export const PICTURES: readonly PictureKind[] = [measured, residuals, normalQuantiles, influence, range];
