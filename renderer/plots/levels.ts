import type { Layout } from 'plotly.js';
import { LEVEL_COLOURS } from '../theme.ts';

/** Levels in dB, values[i][j] at frequenciesHz[i] and timesS[j]; both evenly spaced, frequencies in the logarithm where their axis is. */
export type Levels = {
  readonly timesS: readonly number[];
  readonly frequenciesHz: readonly number[];
  readonly values: readonly (readonly number[])[];
};

/** Levels further than this below the loudest are drawn in the darkest colour. */
export const SHOWN_DECIBELS = 60;

const STEPS = 256;

/** Loudest level, in dB. */
export function loudestOf({ values }: Levels): number {
  return Math.max(...values.map((row) => Math.max(...row)));
}

/**
 * Paints levels, one pixel a value, the highest frequency at the top.
 * @param loudest - level of the brightest colour, in dB
 * @returns the picture as a data address
 */
export function paintLevels({ values }: Levels, loudest: number): string {
  const [rows, columns] = [values.length, values[0]?.length ?? 0];
  const canvas = document.createElement('canvas');
  canvas.width = columns;
  canvas.height = rows;
  // read back at once, so it is better kept out of a graphics card
  const context = canvas.getContext('2d', { willReadFrequently: true })!;
  const picture = context.createImageData(columns, rows);
  const pixels = new Uint32Array(picture.data.buffer);
  const darkest = loudest - SHOWN_DECIBELS;
  for (let row = 0, at = 0; row < rows; row++) {
    const levels = values[rows - 1 - row]!;
    for (let column = 0; column < columns; column++, at++) {
      const share = (levels[column]! - darkest) / SHOWN_DECIBELS;
      pixels[at] = PIXELS[Math.round(Math.min(Math.max(share, 0), 1) * (STEPS - 1))]!;
    }
  }
  context.putImageData(picture, 0, 0);
  return canvas.toDataURL();
}

/** A painted picture laid over the axes of a figure: each value is the middle of its pixel. */
export function layLevels(
  source: string,
  { timesS, frequenciesHz }: Levels,
  axes: { xref: 'x'; yref: `y${string}`; logarithmic: boolean },
): NonNullable<Layout['images']>[number] {
  const { xref, yref, logarithmic } = axes;
  const heights = logarithmic ? frequenciesHz.map(Math.log10) : frequenciesHz;
  const [left, width] = spanOf(timesS);
  const [foot, height] = spanOf(heights);
  return {
    source,
    xref,
    yref,
    x: left,
    y: foot + height,
    sizex: width,
    sizey: height,
    sizing: 'stretch',
    // over the lines of the grid
    layer: 'above',
  } as NonNullable<Layout['images']>[number];
}

/** From the edge of the first pixel, over all of them. A single value is as wide as the time or frequency that it stands at. */
function spanOf(middles: readonly number[]): [start: number, length: number] {
  const first = middles[0] ?? 0;
  const step = middles.length > 1 ? (middles.at(-1)! - first) / (middles.length - 1) : 2 * first;
  return [first - step / 2, step * middles.length];
}

/** The scale's colours by step, as a pixel of a little-endian machine: red in the lowest byte, opaque. */
const PIXELS = Uint32Array.from({ length: STEPS }, (_, step) => {
  const place = (step / (STEPS - 1)) * (LEVEL_COLOURS.length - 1);
  const below = LEVEL_COLOURS[Math.floor(place)]!;
  const above = LEVEL_COLOURS[Math.ceil(place)]!;
  const [red, green, blue] = below.map((value, i) =>
    Math.round(value + (place % 1) * (above[i]! - value)),
  ) as [number, number, number];
  return 0xff000000 + (blue << 16) + (green << 8) + red;
});
