import type { Data, Layout } from 'plotly.js';
import { useMemo } from 'react';
import { type DataTableContent, ErrorNote, Panel, usePalette, Waiting } from '../parts/index.ts';
import { axisStyle, baseLayout, Figure, type Frame, pixelOf, valueAt } from '../plots/index.ts';
import { type Range, useAnswer, useCursor, useWindow } from '../state/index.ts';
import type { Palette } from '../theme.ts';
import type { Assessment, Spectrum } from '../types.ts';
import { formatSignificant, nameAzimuth } from '../words/index.ts';
import { PickMarker } from './PickMarker.tsx';
import { type PickRow, type Plane, planeOfChannel } from './pickRows.ts';
import { RangeFields } from './RangeFields.tsx';
import { REACH_PX, snapToPeak } from './snapToPeak.ts';
import type { PickCommands } from './usePicks.ts';

const MAXIMUM_HZ = 80;
const WHOLE: Range = [0, MAXIMUM_HZ];
const MARGIN = { l: 62, r: 18, t: 4, b: 22 } as const;
const GAP = 0.05;
/** Room above the curve for the heads of the markers. */
const HEADROOM = 1.3;
const HEADROOM_DECADES = 0.55;
/** Plotly sets powers of ten a quarter larger than it is told. */
const POWER_LABEL_PX = 10;
/** A logarithmic axis shows this many decades below the largest value. */
const DECADES = 3.5;

type SpectrumPanelProps = {
  visitId: number;
  rows: readonly PickRow[];
  planes: readonly Plane[];
  otherPeaks: Assessment['otherPeaks'];
  commands: PickCommands;
};

/** The spectrum of the chosen strike, one field for each plane, with the picks standing in it. */
export function SpectrumPanel({ visitId, rows, planes, otherPeaks, commands }: SpectrumPanelProps) {
  const { bench: view, look } = useWindow();
  const palette = usePalette();
  const { value: spectrum, failure } = useAnswer('recording.spectrum', {
    visitId,
    recording: view.recording,
    strike: view.strike,
    kind: view.spectrumKind,
    maximumHz: MAXIMUM_HZ,
  });
  const range = view.frequencyRangeHz;
  const figure = useMemo(
    () => spectrum && drawSpectrum(palette, spectrum, planes, otherPeaks, rows, range, view.logarithmic),
    [palette, spectrum, planes, otherPeaks, rows, range, view.logarithmic],
  );
  const frameOf = (width: number): Frame => ({ startPx: MARGIN.l, endPx: width - MARGIN.r, range });
  const placingRow =
    view.placing && rows.find((r) => r.plane === view.placing?.plane && r.number === view.placing.number);

  function placeAt(px: number, frame: Frame): void {
    if (!view.placing || !spectrum) return;
    const channel = channelOfPlane(spectrum, planes, view.placing.plane);
    const hzPerPx = (range[1] - range[0]) / (frame.endPx - frame.startPx);
    const at = snapToPeak(
      spectrum.frequenciesHz,
      spectrum.channels[channel]?.values ?? [],
      valueAt(frame, px),
      REACH_PX * hzPerPx,
    );
    commands.place(view.placing, at);
    look({ placing: null });
  }

  return (
    <Panel
      title="Spectrum"
      remark={
        placingRow
          ? `click mode ${placingRow.number} in ${nameAzimuth(placingRow.azimuthDeg)}`
          : '△ predicted, × other peak'
      }
      table={tableOf(rows, otherPeaks)}
      controls={
        <>
          <RangeFields
            name="Frequency"
            unit="Hz"
            range={range}
            whole={WHOLE}
            decimals={1}
            onChange={(next) => look({ frequencyRangeHz: next ?? WHOLE })}
          />
          <label>
            <span className="visually-hidden">Kind of spectrum</span>
            <select
              value={view.spectrumKind}
              onChange={(event) =>
                look({ spectrumKind: event.currentTarget.value === 'psd' ? 'psd' : 'amplitude' })
              }
            >
              <option value="amplitude">amplitude</option>
              <option value="psd">PSD</option>
            </select>
          </label>
          <label>
            <span className="visually-hidden">Vertical axis</span>
            <select
              value={view.logarithmic ? 'log' : 'linear'}
              onChange={(event) => look({ logarithmic: event.currentTarget.value === 'log' })}
            >
              <option value="log">log</option>
              <option value="linear">linear</option>
            </select>
          </label>
        </>
      }
    >
      {failure && <ErrorNote failure={failure} />}
      {!spectrum && !failure && <Waiting what="Computing the spectrum." />}
      {spectrum && figure && (
        <Figure
          label={labelOf(rows)}
          data={figure.data}
          layout={figure.layout}
          onRange={(axis, next) => {
            if (next === null) look({ frequencyRangeHz: WHOLE });
            else if (axis === 'xaxis') {
              look({ frequencyRangeHz: [Math.max(next[0], 0), Math.min(next[1], MAXIMUM_HZ)] });
            }
          }}
          onPointer={(at) => {
            const inside = at && at.x >= MARGIN.l && at.x <= at.width - MARGIN.r;
            useCursor.getState().point({
              timeS: null,
              frequencyHz: inside ? valueAt(frameOf(at.width), at.x) : null,
            });
          }}
        >
          {({ width, height }) => (
            <>
              <SpectrumCursor frame={frameOf(width)} spectrum={spectrum} />
              {planes.map(({ plane, azimuthDeg }, i) => {
                const field = fieldOf(i, planes.length, height);
                return (
                  <div key={plane}>
                    {rows
                      .filter((r) => r.plane === plane && isShown(r, range))
                      .map((row) => (
                        <PickMarker
                          key={`${plane}-${row.number}`}
                          row={row}
                          frame={frameOf(width)}
                          top={field.top}
                          height={field.height}
                          binHz={binOf(spectrum)}
                          commands={commands}
                        />
                      ))}
                    {view.placing?.plane === plane && (
                      <button
                        type="button"
                        className="placing-field"
                        aria-label={`Place mode ${view.placing.number} of ${nameAzimuth(azimuthDeg)} by a click`}
                        style={{
                          left: MARGIN.l,
                          top: field.top,
                          width: width - MARGIN.l - MARGIN.r,
                          height: field.height,
                        }}
                        onClick={(event) => {
                          const box = event.currentTarget.getBoundingClientRect();
                          placeAt(MARGIN.l + event.clientX - box.left, frameOf(width));
                        }}
                      />
                    )}
                  </div>
                );
              })}
            </>
          )}
        </Figure>
      )}
    </Panel>
  );
}

function isShown(row: PickRow, range: Range): boolean {
  return row.frequencyHz !== null && row.frequencyHz >= range[0] && row.frequencyHz <= range[1];
}

/** One step of an arrow key: the distance of two points of the spectrum. */
function binOf(spectrum: Spectrum): number {
  return (spectrum.frequenciesHz[1] ?? 1) - (spectrum.frequenciesHz[0] ?? 0);
}

function domainOf(index: number, count: number): [number, number] {
  const each = (1 - GAP * (count - 1)) / count;
  const top = 1 - index * (each + GAP);
  return [Math.max(top - each, 0), top];
}

function fieldOf(index: number, count: number, height: number): { top: number; height: number } {
  const inner = height - MARGIN.t - MARGIN.b;
  const [low, high] = domainOf(index, count);
  return { top: MARGIN.t + (1 - high) * inner, height: (high - low) * inner };
}

function channelOfPlane(spectrum: Spectrum, planes: readonly Plane[], plane: number): number {
  return spectrum.channels.findIndex((c) => planeOfChannel(planes, c.azimuthDeg)?.plane === plane);
}

function SpectrumCursor({ frame, spectrum }: { frame: Frame; spectrum: Spectrum }) {
  const frequencyHz = useCursor((s) => s.frequencyHz);
  if (frequencyHz === null || frequencyHz < frame.range[0] || frequencyHz > frame.range[1]) return null;
  const bin = Math.round((frequencyHz - (spectrum.frequenciesHz[0] ?? 0)) / binOf(spectrum));
  const values = spectrum.channels
    .map((c) => `${Math.round(c.azimuthDeg)}°: ${formatSignificant(c.values[bin])}`)
    .join('  ');
  const left = pixelOf(frame, frequencyHz);
  return (
    <div className="cursor-layer" aria-hidden>
      <div className="cursor-v" style={{ left, top: MARGIN.t, bottom: MARGIN.b }} />
      <div className="cursor-words at-foot" style={{ left, bottom: MARGIN.b }}>
        {formatSignificant(frequencyHz, 4)} Hz&ensp;{values}
      </div>
    </div>
  );
}

const UNIT_WORDS = { 'm/s2': 'm/s²', '(m/s2)2/Hz': '(m/s²)²/Hz' } as const;

function drawSpectrum(
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

function labelOf(rows: readonly PickRow[]): string {
  const picks = rows
    .filter((row) => row.frequencyHz !== null)
    .map(
      (row) =>
        `mode ${row.number} of ${nameAzimuth(row.azimuthDeg)} at ${formatSignificant(row.frequencyHz, 4)} Hz`,
    );
  return `Spectrum of the chosen strike. ${picks.length ? `Picks: ${picks.join('; ')}` : 'No picks'}`;
}

function tableOf(rows: readonly PickRow[], otherPeaks: Assessment['otherPeaks']): DataTableContent {
  return {
    caption: 'Peaks of the spectrum',
    columns: ['Peak', 'Frequency, Hz', 'Predicted, Hz', 'Remark'],
    rows: [
      ...rows
        .filter((row) => row.frequencyHz !== null)
        .map((row) => [
          `mode ${row.number}, ${nameAzimuth(row.azimuthDeg)}`,
          formatSignificant(row.frequencyHz, 4),
          formatSignificant(row.predictedHz, 4),
          `${row.state}. ${row.reason}`,
        ]),
      ...otherPeaks.map((peak) => [
        `other, ${nameAzimuth(peak.azimuthDeg)}`,
        formatSignificant(peak.frequencyHz, 4),
        '',
        peak.reason,
      ]),
    ],
  };
}
