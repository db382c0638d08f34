import type { Data, Layout } from 'plotly.js';
import { axisStyle, baseLayout, bottomAxis, layLevels, roundDown } from '../plots/index.ts';
import type { Range } from '../state/index.ts';
import type { Palette } from '../theme.ts';
import type { Spectrogram, Strike, Waveform } from '../types.ts';
import { nameAzimuth } from '../words/index.ts';
import { type Plane, planeOfChannel } from './pickRows.ts';
import { GAP, MARGIN, shownFrequencies, WAVEFORM_SHARE } from './recordingFrames.ts';

const LOG_TICKS_HZ = [1, 3, 10, 30];

/** A spectrogram, and the picture that was painted of it. */
export type PaintedSpectrogram = { levels: Spectrogram; picture: string };

/** The figure of a recording: a waveform with its strikes for each channel, and below them a spectrogram on the same time axis. */
export function drawRecording(
  palette: Palette,
  waveform: Waveform,
  spectrogram: PaintedSpectrogram | null,
  strikes: readonly Strike[],
  chosen: number | 'combined' | null,
  planes: readonly Plane[],
  timeRangeS: Range,
  frequencyRangeHz: Range,
  logarithmic: boolean,
): { data: Data[]; layout: Partial<Layout> } {
  const count = waveform.channels.length;
  const share = WAVEFORM_SHARE / count;
  const axes: Record<string, unknown> = {};
  const largest = Math.max(...waveform.channels.flatMap((c) => [...c.high, ...c.low.map((x) => -x)]), 1e-9);
  const tick = roundDown(largest);
  const data: Record<string, unknown>[] = waveform.channels.flatMap((channel, i) => {
    const plane = planeOfChannel(planes, channel.azimuthDeg)?.plane ?? i;
    const colour = palette.planes[plane % palette.planes.length]!;
    const axis = i === 0 ? '' : String(i + 1);
    axes[`yaxis${axis}`] = {
      ...axisStyle(palette),
      domain: [1 - (i + 1) * share + 0.012, 1 - i * share - 0.012],
      range: [-1.08 * largest, 1.08 * largest],
      tickvals: [0, tick],
      zeroline: true,
      zerolinecolor: palette.grid,
    };
    const line = { color: colour, width: 1 };
    const common = { type: 'scatter', mode: 'lines', x: waveform.timesS, yaxis: `y${axis}`, line };
    return [
      { ...common, y: channel.low },
      { ...common, y: channel.high, fill: 'tonexty', fillcolor: colour },
    ];
  });
  const levelAxis = String(count + 1);
  axes[`yaxis${levelAxis}`] = {
    ...axisStyle(palette, 'Hz'),
    domain: [0, 1 - WAVEFORM_SHARE - GAP],
    ...frequencyAxis(shownFrequencies(frequencyRangeHz, logarithmic), logarithmic),
    fixedrange: false,
  };
  return {
    data: data as unknown as Data[],
    layout: {
      ...baseLayout(palette),
      ...axes,
      margin: MARGIN,
      xaxis: bottomAxis(palette, 's', timeRangeS, count + 1),
      images: spectrogram
        ? [
            layLevels(spectrogram.picture, spectrogram.levels, {
              xref: 'x',
              yref: `y${levelAxis}`,
              logarithmic,
            }),
          ]
        : [],
      shapes: strikes.map((strike, i) => ({
        type: 'rect',
        xref: 'x',
        yref: 'paper',
        x0: strike.startS,
        x1: strike.endS,
        y0: 1 - WAVEFORM_SHARE,
        y1: 1,
        layer: 'below',
        fillcolor: i === chosen ? palette.chosen : palette.band,
        line: { color: palette.quiet, width: 1, dash: i === chosen ? 'solid' : 'dot' },
      })),
      annotations: [
        ...strikes.map((strike, i) => ({
          xref: 'x',
          yref: 'paper',
          x: Math.max(strike.startS, timeRangeS[0]),
          y: 1,
          xanchor: 'left',
          yanchor: 'bottom',
          showarrow: false,
          text: `${i + 1} ${strike.verdict}`,
          font: { size: 12 },
          visible: strike.endS > timeRangeS[0] && strike.startS < timeRangeS[1],
        })),
        ...waveform.channels.map((channel, i) => ({
          xref: 'paper',
          yref: 'paper',
          x: 1,
          xshift: 4,
          y: 1 - (i + 0.5) * share,
          xanchor: 'left',
          yanchor: 'middle',
          showarrow: false,
          text: `${nameAzimuth(channel.azimuthDeg)}<br>m/s²`,
          font: { size: 12, color: palette.quiet },
        })),
      ],
    } as unknown as Partial<Layout>,
  };
}

function frequencyAxis(range: Range, logarithmic: boolean): Record<string, unknown> {
  if (!logarithmic) return { range: [...range], nticks: 5 };
  return {
    type: 'log',
    range: range.map(Math.log10),
    tickvals: LOG_TICKS_HZ,
    ticktext: LOG_TICKS_HZ.map(String),
  };
}
