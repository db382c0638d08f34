import type { Layout, LayoutAxis } from 'plotly.js';
import type { Palette } from '../theme.ts';

const FONT = 'system-ui, "Segoe UI", "Helvetica Neue", "Noto Sans", "DejaVu Sans", Arial, sans-serif';
const LABEL_PX = 12;

/** Ground of every plot: no chrome of the library's own, text in the window's type and ink. */
export function baseLayout(palette: Palette): Partial<Layout> {
  return {
    paper_bgcolor: 'rgba(0,0,0,0)',
    plot_bgcolor: 'rgba(0,0,0,0)',
    font: { family: FONT, size: LABEL_PX, color: palette.ink },
    showlegend: false,
    hovermode: false,
    dragmode: 'zoom',
  } as Partial<Layout>;
}

export function axisStyle(palette: Palette, title?: string): Partial<LayoutAxis> {
  return {
    ...(title === undefined ? {} : { title: { text: title, standoff: 4, font: { size: LABEL_PX } } }),
    gridcolor: palette.grid,
    linecolor: palette.rule,
    tickcolor: palette.rule,
    showline: true,
    zeroline: false,
    ticks: 'outside',
    ticklen: 4,
    automargin: false,
    fixedrange: true,
  } as Partial<LayoutAxis>;
}

/** The axis under all fields of a figure, with its unit behind the last number. @param anchor - number of the lowest field's axis, from 1 */
export function bottomAxis(
  palette: Palette,
  unit: string,
  range: readonly [number, number],
  anchor: number,
): Partial<LayoutAxis> {
  return {
    ...axisStyle(palette),
    ticksuffix: ` ${unit}`,
    showticksuffix: 'last',
    range: [...range],
    fixedrange: false,
    anchor: `y${anchor > 1 ? anchor : ''}`,
  } as Partial<LayoutAxis>;
}
