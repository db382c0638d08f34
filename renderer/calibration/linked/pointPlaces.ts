import { type Frame, pixelOf } from '../../plots/index.ts';

/** A point of a picture: which break test it is, where it lies, and its words. */
export type LinkedPoint = { testId: number; x: number; y: number; words: string };

export type PlotFrames = { x: Frame; y: Frame };
export type Box = { left: number; top: number; right: number; bottom: number };

/** The point nearest to a place on screen, within a reach; null where none is. */
export function nearestPoint(
  points: readonly LinkedPoint[],
  { x, y }: PlotFrames,
  at: { x: number; y: number },
  reachPx: number,
): number | null {
  let nearest: number | null = null;
  let least = reachPx;
  for (const [index, point] of points.entries()) {
    const distance = Math.hypot(pixelOf(x, point.x) - at.x, pixelOf(y, point.y) - at.y);
    if (distance > least) continue;
    least = distance;
    nearest = index;
  }
  return nearest;
}

/** Tests whose points lie in a box on screen. */
export function testsInBox(points: readonly LinkedPoint[], { x, y }: PlotFrames, box: Box): number[] {
  return points
    .filter((point) => {
      const [px, py] = [pixelOf(x, point.x), pixelOf(y, point.y)];
      return px >= box.left && px <= box.right && py >= box.top && py <= box.bottom;
    })
    .map(({ testId }) => testId);
}

/** Adds tests to a choice, or takes them out where all of them are in it already. */
export function toggleTests(chosen: readonly number[], tests: readonly number[]): number[] {
  const isIn = tests.every((test) => chosen.includes(test));
  return isIn
    ? chosen.filter((test) => !tests.includes(test))
    : [...chosen, ...tests.filter((test) => !chosen.includes(test))];
}
