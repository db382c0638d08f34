import type { Spectrum } from '../types.ts';

/** Room above the curve for the heads of the markers. */
const HEADROOM = 1.3;
const HEADROOM_DECADES = 0.55;
/** A logarithmic axis shows this many decades below the largest value. */
const DECADES = 3.5;

/** The axis of levels that the fields of a spectrum share. */
export type LevelAxis = {
  logarithmic: boolean;
  /** Of the levels, or of their decimal logarithms. */
  range: readonly [number, number];
  /** The least level that is drawn. */
  floor: number;
  largest: number;
};

export function levelAxisOf(spectrum: Spectrum, logarithmic: boolean): LevelAxis {
  let largest = Number.MIN_VALUE;
  for (const { values } of spectrum.channels) {
    for (const value of values) if (value > largest) largest = value;
  }
  const top = Math.log10(largest);
  return logarithmic
    ? { logarithmic, range: [top - DECADES, top + HEADROOM_DECADES], floor: 10 ** (top - DECADES), largest }
    : { logarithmic, range: [0, largest * HEADROOM], floor: 0, largest };
}

/** Height of a level above the foot of its field, as a share of the field's height; within it. */
export function shareOfLevel({ logarithmic, range: [from, to], floor }: LevelAxis, level: number): number {
  const at = logarithmic ? Math.log10(Math.max(level, floor)) : level;
  return Math.min(Math.max((at - from) / (to - from), 0), 1);
}
