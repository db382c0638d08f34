import { useMemo } from 'react';
import { ErrorNote, Panel, usePalette, Waiting } from '../parts/index.ts';
import { Figure, type Frame, pixelOf, valueAt } from '../plots/index.ts';
import { type Range, useAnswer, useCursor, useWindow } from '../state/index.ts';
import type { Assessment, Spectrum } from '../types.ts';
import { formatSignificant, nameAzimuth } from '../words/index.ts';
import { nameSpectrum, tabulateSpectrum } from './describeSpectrum.ts';
import { drawSpectrum } from './drawSpectrum.ts';
import { PickMarker } from './PickMarker.tsx';
import { type PickRow, type Plane, planeOfChannel } from './pickRows.ts';
import { RangeFields } from './RangeFields.tsx';
import { REACH_PX, snapToPeak } from './snapToPeak.ts';
import { binOf, fieldOf, MARGIN } from './spectrumFrames.ts';
import type { PickCommands } from './usePicks.ts';

const MAXIMUM_HZ = 80;
const WHOLE: Range = [0, MAXIMUM_HZ];

type SpectrumPanelProps = {
  visitId: number;
  /** Among the strikes of the recording in view; null: all of it. */
  strike: number | null;
  rows: readonly PickRow[];
  planes: readonly Plane[];
  otherPeaks: Assessment['otherPeaks'];
  commands: PickCommands;
};

/** The spectrum of the chosen strike, one field for each plane, with the picks standing in it. */
export function SpectrumPanel({ visitId, strike, rows, planes, otherPeaks, commands }: SpectrumPanelProps) {
  const { bench: view, look } = useWindow();
  const palette = usePalette();
  const { value: spectrum, failure } = useAnswer('recording.spectrum', {
    visitId,
    recording: view.recording,
    strike,
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
      table={tabulateSpectrum(rows, otherPeaks)}
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
          label={nameSpectrum(rows)}
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
