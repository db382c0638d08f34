import type { Data, Layout } from 'plotly.js';
import { axisStyle, baseLayout } from '../../plots/index.ts';
import type { Range } from '../../state/index.ts';
import { LEVEL_SCALE, type Palette } from '../../theme.ts';
import type { FaultMark, Spectrogram } from '../classroomTypes.ts';
import { drawMarks, marksInTime } from './drawMarks.ts';
import { MARGIN } from './pictureFrames.ts';

/** Levels further than this below the loudest are drawn in the darkest colour. */
const SHOWN_DECIBELS = 60;
/** On a dark ground marks are lines, not bands; they carry their words in the waveform above. */
const MARK_COLOUR = '#ffffff';
const WHOLE_STRIP = [{ from: 0, to: 1 }];

/** Loudest level of a spectrogram, in dB. */
export function loudestOf({ values }: Spectrogram): number {
  return Math.max(...values.map((row) => Math.max(...row)));
}

/** Level over time and frequency, with the moments of faults as lines. */
export function drawSpectrogram(
  palette: Palette,
  { timesS, frequenciesHz, values }: Spectrogram,
  marks: readonly FaultMark[],
  timeRangeS: Range,
  frequencyRangeHz: Range,
  loudest: number,
): { data: Data[]; layout: Partial<Layout> } {
  const data = [
    {
      type: 'heatmap',
      x: timesS,
      y: frequenciesHz,
      z: values,
      colorscale: LEVEL_SCALE,
      zmin: loudest - SHOWN_DECIBELS,
      zmax: loudest,
      showscale: false,
    },
  ];
  const inTime = marksInTime(
    marks.filter(({ timeS }) => timeS !== null),
    timeRangeS,
  );
  const { shapes } = drawMarks(palette, inTime, WHOLE_STRIP, timeRangeS);
  return {
    data: data as unknown as Data[],
    layout: {
      ...baseLayout(palette),
      margin: MARGIN,
      xaxis: {
        ...axisStyle(palette),
        ticksuffix: ' s',
        showticksuffix: 'last',
        range: [...timeRangeS],
        fixedrange: false,
      },
      yaxis: { ...axisStyle(palette, 'Hz'), range: [...frequencyRangeHz], nticks: 4, fixedrange: false },
      shapes: shapes.map((shape) => ({
        ...shape,
        layer: 'above',
        fillcolor: 'rgba(0,0,0,0)',
        line: { color: MARK_COLOUR, width: 1.2, dash: 'dot' },
      })),
    } as unknown as Partial<Layout>,
  };
}
