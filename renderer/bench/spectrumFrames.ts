import type { Range } from '../state/index.ts';
import type { Spectrum } from '../types.ts';

export const MAXIMUM_HZ = 80;
export const WHOLE: Range = [0, MAXIMUM_HZ];

/** At the right is room for the names of the planes, where no mark of a pick comes. */
export const MARGIN = { l: 62, r: 58, t: 4, b: 22 } as const;
const GAP = 0.05;

/** One step of an arrow key: the distance of two points of the spectrum. */
export function binOf(spectrum: Spectrum): number {
  return (spectrum.frequenciesHz[1] ?? 1) - (spectrum.frequenciesHz[0] ?? 0);
}

/** Share of the figure's height that the field of a plane takes. */
export function domainOf(index: number, count: number): [number, number] {
  const each = (1 - GAP * (count - 1)) / count;
  const top = 1 - index * (each + GAP);
  return [Math.max(top - each, 0), top];
}

/** The same in pixels from the top. */
export function fieldOf(index: number, count: number, height: number): { top: number; height: number } {
  const inner = height - MARGIN.t - MARGIN.b;
  const [low, high] = domainOf(index, count);
  return { top: MARGIN.t + (1 - high) * inner, height: (high - low) * inner };
}
