import { writeMinus } from '../../formatNumbers.ts';
import { type Markup, markup } from '../markup.ts';

/** Plots are drawn this many units wide and scaled to the column; on A4 one unit is about a quarter millimetre. */
export const PLOT_WIDTH = 720;

/** The rectangle inside the axes, in plot units. */
export type PlotBox = {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
};

export type Tick = { readonly at: number; readonly label: string };
export type AxisTicks = { readonly title: string; readonly ticks: readonly Tick[] };

const TICK_LENGTH = 4;
const LABEL_GAP = 3;
const MOST_LOG_LABELS = 10;

/** Coordinate with a tenth of a unit (25 um on paper): finer is not seen and makes the file longer. */
export function roundCoordinate(value: number): number {
  return Math.round(value * 10) / 10 + 0;
}

/** Path data through the points in order, closed where asked. */
export function drawPath(points: readonly (readonly [number, number])[], closed = false): string {
  if (points.length === 0) return '';
  const body = points.map(([x, y]) => `${roundCoordinate(x)} ${roundCoordinate(y)}`).join('L');
  return `M${body}${closed ? 'Z' : ''}`;
}

/** Ticks of a linear axis, each with its number. */
export function labelTicks(values: readonly number[], scale: (value: number) => number): Tick[] {
  return values.map((value) => ({
    at: scale(value),
    label: writeMinus(String(Number(value.toPrecision(6)))),
  }));
}

/** Ticks of a logarithmic axis; where there are many, only 1, 2 and 5 of each decade carry numbers. */
export function labelLogTicks(values: readonly number[], scale: (value: number) => number): Tick[] {
  const isCrowded = values.length > MOST_LOG_LABELS;
  return labelTicks(values, scale).map((tick, i) => {
    const mantissa = Number(values[i]!.toExponential(6).split('e')[0]);
    return isCrowded && ![1, 2, 5].includes(mantissa) ? { ...tick, label: '' } : tick;
  });
}

/** Axis along the bottom of the box, with grid lines through it. */
export function drawBottomAxis(box: PlotBox, axis: AxisTicks): Markup {
  const middle = (box.left + box.right) / 2;
  return markup`<g class="axis">${axis.ticks.map(
    ({ at, label }) =>
      markup`<line class="grid" x1="${roundCoordinate(at)}" x2="${roundCoordinate(at)}" y1="${box.top}" y2="${box.bottom + TICK_LENGTH}"/><text x="${roundCoordinate(at)}" y="${box.bottom + TICK_LENGTH + 11}" text-anchor="middle">${label}</text>`,
  )}<line class="rule" x1="${box.left}" x2="${box.right}" y1="${box.bottom}" y2="${box.bottom}"/><text class="title" x="${middle}" y="${box.bottom + 29}" text-anchor="middle">${axis.title}</text></g>`;
}

/** Axis along the left of the box, with grid lines through it. */
export function drawLeftAxis(box: PlotBox, axis: AxisTicks, titleX: number): Markup {
  const middle = (box.top + box.bottom) / 2;
  return markup`<g class="axis">${axis.ticks.map(
    ({ at, label }) =>
      markup`<line class="grid" x1="${box.left - TICK_LENGTH}" x2="${box.right}" y1="${roundCoordinate(at)}" y2="${roundCoordinate(at)}"/><text x="${box.left - TICK_LENGTH - LABEL_GAP}" y="${roundCoordinate(at + 3.5)}" text-anchor="end">${label}</text>`,
  )}<line class="rule" x1="${box.left}" x2="${box.left}" y1="${box.top}" y2="${box.bottom}"/><text class="title" transform="translate(${titleX} ${middle}) rotate(-90)" text-anchor="middle">${axis.title}</text></g>`;
}

/** A plot with its caption; `description` is what a screen reader says in place of the drawing. */
export function drawFigure(height: number, description: string, content: Markup, caption: Markup): Markup {
  return markup`<figure><svg viewBox="0 0 ${PLOT_WIDTH} ${height}" role="img" aria-label="${description}">${content}</svg><figcaption>${caption}</figcaption></figure>
`;
}
