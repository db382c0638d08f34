import type { Data, Layout } from 'plotly.js';
import { axisStyle, baseLayout, roundDown } from '../../plots/index.ts';
import type { Range } from '../../state/index.ts';
import type { Palette } from '../../theme.ts';
import { nameAzimuth } from '../../words/index.ts';
import type { FaultMark, Waveform } from '../classroomTypes.ts';
import { drawMarks, marksInTime } from './drawMarks.ts';
import { MARGIN } from './pictureFrames.ts';

const GAP = 0.03;
/** Room over the highest sample. */
const HEADROOM = 1.08;

/** Greatest acceleration of a waveform, either way, in m/s2. */
export function greatestOf({ channels }: Waveform): number {
  return Math.max(...channels.flatMap(({ high, low }) => [...high, ...low.map((value) => -value)]), 1e-9);
}

/** A strip for each axis of the sensor, on one time from the blow, with the places of faults marked. */
export function drawWaveform(
  palette: Palette,
  waveform: Waveform,
  marks: readonly FaultMark[],
  range: Range,
  greatest: number,
): { data: Data[]; layout: Partial<Layout> } {
  const { channels, timesS } = waveform;
  const share = 1 / channels.length;
  const strips = channels.map((_, i) => ({
    axis: i === 0 ? 'y' : `y${i + 1}`,
    from: 1 - (i + 1) * share + GAP / 2,
    to: 1 - i * share - GAP / 2,
  }));
  const height = HEADROOM * greatest;
  const tick = roundDown(greatest);
  const data = channels.flatMap(({ low, high }, i) => {
    const line = { color: palette.planes[i % palette.planes.length]!, width: 1 };
    const common = { type: 'scatter', mode: 'lines', x: timesS, yaxis: strips[i]!.axis, line };
    return [
      { ...common, y: low },
      { ...common, y: high, fill: 'tonexty', fillcolor: line.color },
    ];
  });
  const axes = strips.map(({ from, to }, i) => [
    i === 0 ? 'yaxis' : `yaxis${i + 1}`,
    {
      ...axisStyle(palette),
      domain: [from, to],
      range: [-height, height],
      // the lower side is as the upper one, and its number would meet that of the next strip
      tickvals: [0, tick],
      zeroline: true,
      zerolinecolor: palette.grid,
    },
  ]);
  const { shapes, annotations } = drawMarks(palette, marksInTime(marks, range), strips, range, true);
  return {
    data: data as unknown as Data[],
    layout: {
      ...baseLayout(palette),
      ...Object.fromEntries(axes),
      margin: MARGIN,
      xaxis: {
        ...axisStyle(palette),
        ticksuffix: ' s',
        showticksuffix: 'last',
        range: [...range],
        fixedrange: false,
        anchor: strips.at(-1)!.axis,
      },
      shapes: [...shapes, ...drawLevels(palette, marks, strips, range)],
      annotations,
    } as unknown as Partial<Layout>,
  };
}

/** Lines at the accelerations that a mark names. */
function drawLevels(
  palette: Palette,
  marks: readonly FaultMark[],
  strips: readonly { axis: string }[],
  range: Range,
): object[] {
  return marks.flatMap(({ level, channel, timeS }) => {
    if (!level || channel === null) return [];
    const heights = level.bothSides ? [level.mPerS2, -level.mPerS2] : [level.mPerS2];
    return heights.map((height) => ({
      type: 'line',
      xref: 'x',
      yref: strips[channel]!.axis,
      x0: level.bothSides ? range[0] : Math.max((timeS ?? range)[0], range[0]),
      x1: level.bothSides ? range[1] : Math.min((timeS ?? range)[1], range[1]),
      y0: height,
      y1: height,
      // a flat top is seen on it
      layer: 'below',
      line: { color: palette.ink, width: 1.2, dash: 'dash' },
    }));
  });
}

/** Which strip is which axis, by its place. */
export function nameStrips({ channels }: Waveform): string {
  const names = channels.map(({ azimuthDeg }) => nameAzimuth(azimuthDeg));
  return `${names.length > 1 ? 'from the top: axis' : 'axis'} ${names.join(', ')}; m/s²`;
}
