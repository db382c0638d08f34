import type { Data, Layout } from 'plotly.js';
import { axisStyle, baseLayout } from '../plots/index.ts';
import type { Range } from '../state/index.ts';
import type { Palette } from '../theme.ts';
import type { Assessment, Spectrum } from '../types.ts';
import { type PickRow, type Plane, planeOfChannel } from './pickRows.ts';
import { binOf, domainOf, MARGIN } from './spectrumFrames.ts';

/** Room above the curve for the heads of the markers. */
const HEADROOM = 1.3;
const HEADROOM_DECADES = 0.55;
/** Plotly sets powers of ten a quarter larger than it is told. */
const POWER_LABEL_PX = 10;
/** A logarithmic axis shows this many decades below the largest value. */
const DECADES = 3.5;
const UNIT_WORDS = { 'm/s2': 'm/s²', '(m/s2)2/Hz': '(m/s²)²/Hz' } as const;

/** The figure of a spectrum: one field for each plane, with predicted frequencies and the peaks that are no picks. */
export function drawSpectrum(
  palette: Palette,
  spectrum: Spectrum,
  planes: readonly Plane[],
  otherPeaks: Assessment['otherPeaks'],
  rows: readonly PickRow[],
  range: Range,
  logarithmic: boolean,
): { data: Data[]; layout: Partial<Layout> } {
  const axes: Record<string, unknown> = {};
  const data: Record<string, unknown>[] = [];
  const bin = binOf(spectrum);
  const start = spectrum.frequenciesHz[0] ?? 0;
  const largest = Math.max(...spectrum.channels.flatMap((c) => c.values), Number.MIN_VALUE);
  const top = Math.log10(largest);
  const floor = logarithmic ? 10 ** (top - DECADES) : 0;
  for (const [index, { plane, azimuthDeg }] of planes.entries()) {
    const axis = index === 0 ? '' : String(index + 1);
    axes[`yaxis${axis}`] = {
      ...axisStyle(palette, `${Math.round(azimuthDeg)}°, ${UNIT_WORDS[spectrum.unit]}`),
      domain: domainOf(index, planes.length),
      type: logarithmic ? 'log' : 'linear',
      range: logarithmic ? [top - DECADES, top + HEADROOM_DECADES] : [0, largest * HEADROOM],
      exponentformat: 'power',
      ...(logarithmic && { tickfont: { size: POWER_LABEL_PX } }),
      ...(logarithmic ? { dtick: 1 } : { nticks: 4 }),
    };
    const colour = palette.planes[plane % palette.planes.length]!;
    const onAxis = { type: 'scatter', yaxis: `y${axis}` };
    for (const channel of spectrum.channels) {
      if (planeOfChannel(planes, channel.azimuthDeg)?.plane !== plane) continue;
      data.push({
        ...onAxis,
        mode: 'lines',
        x: spectrum.frequenciesHz,
        y: channel.values.map((value) => Math.max(value, floor / 10)),
        line: { color: colour, width: 1.2 },
      });
      const others = otherPeaks.filter((peak) => peak.plane === plane);
      data.push({
        ...onAxis,
        mode: 'markers',
        x: others.map((peak) => peak.frequencyHz),
        y: others.map((peak) => channel.values[Math.round((peak.frequencyHz - start) / bin)] ?? floor),
        marker: { symbol: 'x-thin-open', size: 8, color: palette.ink, line: { width: 1.4 } },
      });
    }
    const predicted = rows.filter((row) => row.plane === plane && row.predictedHz !== null);
    data.push({
      ...onAxis,
      mode: 'markers',
      x: predicted.map((row) => row.predictedHz),
      y: predicted.map(() => (logarithmic ? floor * 1.25 : largest * 0.03)),
      marker: { symbol: 'triangle-up-open', size: 9, color: palette.ink, line: { width: 1.4 } },
    });
  }
  return {
    data: data as unknown as Data[],
    layout: {
      ...baseLayout(palette),
      ...axes,
      margin: MARGIN,
      xaxis: {
        ...axisStyle(palette),
        ticksuffix: ' Hz',
        showticksuffix: 'last',
        range: [...range],
        fixedrange: false,
        anchor: `y${planes.length > 1 ? planes.length : ''}`,
      },
    } as unknown as Partial<Layout>,
  };
}
