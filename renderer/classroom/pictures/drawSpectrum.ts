import type { Data, Layout } from 'plotly.js';
import { axisStyle, baseLayout } from '../../plots/index.ts';
import type { Range } from '../../state/index.ts';
import type { Palette } from '../../theme.ts';
import { nameAzimuth } from '../../words/index.ts';
import type { FaultMark, Spectrum } from '../classroomTypes.ts';
import { drawMarks, marksInFrequency } from './drawMarks.ts';
import { MARGIN } from './pictureFrames.ts';

/** Decades shown below the highest line: 60 dB. */
const DECADES = 3;
/** Room over the highest line for the words of marks, on every spectrum so that two side by side keep one scale. */
const HEADROOM_DECADES = 0.8;
const WHOLE_STRIP = [{ from: 0, to: 1 }];

/** Highest amplitude of a spectrum, in m/s2. */
export function highestOf({ channels }: Spectrum): number {
  return channels.reduce((most, { values }) => values.reduce((m, value) => Math.max(m, value), most), 1e-9);
}

/** Amplitude of both axes over frequency, logarithmic, with the places of faults marked. */
export function drawSpectrum(
  palette: Palette,
  { frequenciesHz, channels }: Spectrum,
  marks: readonly FaultMark[],
  range: Range,
  highest: number,
): { data: Data[]; layout: Partial<Layout> } {
  const top = Math.log10(highest);
  const { shapes, annotations } = drawMarks(palette, marksInFrequency(marks), WHOLE_STRIP, range);
  const data = channels.map(({ azimuthDeg, values }, i) => ({
    type: 'scatter',
    mode: 'lines',
    x: frequenciesHz,
    y: values,
    name: `${nameAzimuth(azimuthDeg)}`,
    line: { color: palette.planes[i % palette.planes.length]!, width: 1.2, dash: i === 0 ? 'solid' : 'dash' },
  }));
  return {
    data: data as unknown as Data[],
    layout: {
      ...baseLayout(palette),
      margin: MARGIN,
      xaxis: {
        ...axisStyle(palette),
        ticksuffix: ' Hz',
        showticksuffix: 'last',
        range: [...range],
        fixedrange: false,
      },
      yaxis: {
        ...axisStyle(palette),
        type: 'log',
        range: [top - DECADES, top + HEADROOM_DECADES],
        dtick: 1,
        exponentformat: 'power',
      },
      shapes,
      annotations: [...annotations, nameAxes(palette, channels)],
    } as unknown as Partial<Layout>,
  };
}

/** Which line is which axis, by its stroke. */
function nameAxes(palette: Palette, channels: Spectrum['channels']): object {
  const text = channels.map(
    ({ azimuthDeg }, i) => `${nameAzimuth(azimuthDeg)} ${i === 0 ? 'solid' : 'dashed'}`,
  );
  return {
    xref: 'paper',
    yref: 'paper',
    x: 1,
    y: 1,
    xanchor: 'right',
    yanchor: 'bottom',
    showarrow: false,
    text: `axis ${text.join(', ')}; m/s²`,
    font: { size: 12, color: palette.quiet },
  };
}
