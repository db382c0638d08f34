import type { Data, Layout } from 'plotly.js';
import { axisStyle, baseLayout, bottomAxis } from '../plots/index.ts';
import type { Range } from '../state/index.ts';
import type { Palette } from '../theme.ts';
import type { Spectrum, WhatIf } from '../types.ts';
import { namePlane } from '../words/index.ts';
import type { LevelAxis } from './levelAxis.ts';
import { type Plane, planeOfChannel } from './pickRows.ts';
import { domainOf, MARGIN } from './spectrumFrames.ts';

/** Plotly sets powers of ten a quarter larger than it is told. */
const POWER_LABEL_PX = 10;
const UNIT_WORDS = { 'm/s2': 'm/s²', '(m/s2)2/Hz': '(m/s²)²/Hz' } as const;

/**
 * The figure of a spectrum: one field for each plane.
 * @param whatIf - laid over it by dashes, with its frequencies
 */
export function drawSpectrum(
  palette: Palette,
  spectrum: Spectrum,
  planes: readonly Plane[],
  range: Range,
  levels: LevelAxis,
  whatIf: WhatIf | null,
): { data: Data[]; layout: Partial<Layout> } {
  const axes: Record<string, unknown> = {};
  const data: Record<string, unknown>[] = [];
  const { logarithmic, floor, largest } = levels;
  for (const [index, { plane }] of planes.entries()) {
    const axis = index === 0 ? '' : String(index + 1);
    axes[`yaxis${axis}`] = {
      ...axisStyle(palette, UNIT_WORDS[spectrum.unit]),
      domain: domainOf(index, planes.length),
      type: logarithmic ? 'log' : 'linear',
      range: [...levels.range],
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
    }
    const changed = whatIf?.planes[plane];
    const measured = spectrum.channels.find((c) => planeOfChannel(planes, c.azimuthDeg)?.plane === plane);
    if (whatIf && changed && measured) {
      const scaled = scaleResponse(spectrum, measured.values, whatIf.frequenciesHz, changed);
      data.push({
        ...onAxis,
        mode: 'lines',
        x: whatIf.frequenciesHz,
        y: scaled.map((value) => Math.max(value, floor / 10)),
        line: { color: palette.ink, width: 1.4, dash: 'dash' },
      });
      data.push({
        ...onAxis,
        mode: 'markers',
        x: changed.changedHz,
        y: changed.changedHz.map(() => (logarithmic ? floor * 2.6 : largest * 0.1)),
        marker: { symbol: 'triangle-down', size: 9, color: palette.ink },
      });
    }
  }
  return {
    data: data as unknown as Data[],
    layout: {
      ...baseLayout(palette),
      ...axes,
      margin: MARGIN,
      xaxis: bottomAxis(palette, 'Hz', range, planes.length),
      annotations: planes.map(({ plane, azimuthDeg }, i) => ({
        xref: 'paper',
        yref: 'paper',
        x: 1,
        xshift: 4,
        y: domainOf(i, planes.length)[1],
        xanchor: 'left',
        yanchor: 'top',
        align: 'left',
        showarrow: false,
        text: namePlane(plane, azimuthDeg).replace(' (', '<br>('),
        font: { color: palette.planes[plane % palette.planes.length] },
      })),
    } as unknown as Partial<Layout>,
  };
}

/**
 * The response in thought at the height of the measured spectrum: as much above the fitted response as the measured
 * peak is, over the frequencies that are shown.
 */
function scaleResponse(
  spectrum: Spectrum,
  measured: readonly number[],
  frequenciesHz: readonly number[],
  { fittedResponse, changedResponse }: WhatIf['planes'][number],
): number[] {
  const isDensity = spectrum.unit !== 'm/s2';
  const shape = (value: number) => (isDensity ? value * value : value);
  const from = spectrum.frequenciesHz[0] ?? 0;
  const to = spectrum.frequenciesHz.at(-1) ?? 0;
  const inView = fittedResponse.filter((_, i) => frequenciesHz[i]! >= from && frequenciesHz[i]! <= to);
  const scale = Math.max(...measured) / shape(Math.max(...inView, Number.MIN_VALUE));
  return changedResponse.map((value) => scale * shape(value));
}
