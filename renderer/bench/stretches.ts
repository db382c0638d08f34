import type { Strike } from '../types.ts';
import { HALF_TURN_DEG, type Plane } from './pickRows.ts';

type Stretch = { startS: number; endS: number };

/** Whether a strike counts: as its checks say, unless the analyst said otherwise. */
export function isUsed({ verdict, overruled }: Strike): boolean {
  return overruled?.use ?? verdict !== 'repeat';
}

/** The stretches of time that are looked at: one strike, all that count, or (none) all of the recording. */
export function stretchesOf(strikes: readonly Strike[], chosen: number | 'combined' | null): Stretch[] {
  const looked =
    chosen === 'combined'
      ? strikes.filter(isUsed)
      : strikes.filter((_, index) => chosen !== null && index === chosen);
  return looked.map(({ startS, endS }) => ({ startS, endS }));
}

/** The turn from the axes of a sensor to the planes of the pole, within half a right angle of a quarter turn either way. */
export function turnToPlanes(planes: readonly Plane[], azimuthsDeg: readonly number[]): number {
  const [plane, axis] = [planes[0]?.azimuthDeg, azimuthsDeg[0]];
  if (plane === undefined || axis === undefined) return 0;
  const turn = (((plane - axis) % HALF_TURN_DEG) + HALF_TURN_DEG) % HALF_TURN_DEG;
  return turn > HALF_TURN_DEG / 2 ? turn - HALF_TURN_DEG : turn;
}
