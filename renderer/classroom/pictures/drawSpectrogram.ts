import type { Data, Layout } from 'plotly.js';
import { axisStyle, baseLayout, layLevels } from '../../plots/index.ts';
import type { Range } from '../../state/index.ts';
import type { Palette } from '../../theme.ts';
import type { FaultMark, Spectrogram } from '../classroomTypes.ts';
import { drawMarks, marksInTime } from './drawMarks.ts';
import { MARGIN } from './pictureFrames.ts';

/** On a dark ground marks are lines, not bands; they carry their words in the waveform above. */
const MARK_COLOUR = '#ffffff';
const WHOLE_STRIP = [{ from: 0, to: 1 }];

/** Level over time and frequency, with the moments of faults as lines. @param picture - painted of the levels */
export function drawSpectrogram(
  palette: Palette,
  spectrogram: Spectrogram,
  picture: string,
  marks: readonly FaultMark[],
  timeRangeS: Range,
  frequencyRangeHz: Range,
): { data: Data[]; layout: Partial<Layout> } {
  const inTime = marksInTime(
    marks.filter(({ timeS }) => timeS !== null),
    timeRangeS,
  );
  const { shapes } = drawMarks(palette, inTime, WHOLE_STRIP, timeRangeS);
  return {
    data: [],
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
      images: [layLevels(picture, spectrogram, { xref: 'x', yref: 'y', logarithmic: false })],
      shapes: shapes.map((shape) => ({
        ...shape,
        layer: 'above',
        fillcolor: 'rgba(0,0,0,0)',
        line: { color: MARK_COLOUR, width: 1.2, dash: 'dot' },
      })),
    } as unknown as Partial<Layout>,
  };
}
