import './signals.css';
import type { Data, Layout } from 'plotly.js';
import { useMemo } from 'react';
import { type DataTableContent, ErrorNote, Panel, usePalette, VerdictMark, Waiting } from '../parts/index.ts';
import { axisStyle, baseLayout, Figure, type Frame, pixelOf, valueAt } from '../plots/index.ts';
import { type Range, useAnswer, useCursor, useWindow } from '../state/index.ts';
import { LEVEL_SCALE, type Palette } from '../theme.ts';
import type { Bench, RecordingInfo, Spectrogram, Strike, Waveform } from '../types.ts';
import { formatSignificant, nameAzimuth } from '../words/index.ts';
import { type Plane, planeOfChannel } from './pickRows.ts';
import { RangeFields } from './RangeFields.tsx';

/** More columns than the panel has pixels at its widest. */
const COLUMNS = 900;
const HIGHEST_FREQUENCY_HZ = 80;
/** Levels further than this below the loudest are drawn in the darkest colour. */
const SHOWN_DECIBELS = 60;
const MARGIN = { l: 54, r: 58, t: 18, b: 22 } as const;
/** Share of the figure's height for all waveforms together; the spectrogram takes what is left below the gap. */
const WAVEFORM_SHARE = 0.54;
const GAP = 0.04;
const TIME_DECIMALS = 2;

type RecordingPanelProps = { bench: Bench; strikes: readonly Strike[]; planes: readonly Plane[] };

/** One recording in time: waveform of each channel with its strikes, and the spectrogram of one on the same time axis. */
export function RecordingPanel({ bench, strikes, planes }: RecordingPanelProps) {
  const { bench: view, look } = useWindow();
  const palette = usePalette();
  const info = bench.recordings[view.recording] ?? bench.recordings[0];
  const { visitId } = bench;
  const whole: Range = [0, info?.durationS ?? 1];
  const shown = view.timeRangeS ?? whole;
  const recording = info?.index ?? 0;
  const waveform = useAnswer('recording.waveform', {
    visitId,
    recording,
    columns: COLUMNS,
    ...(view.timeRangeS && { fromS: view.timeRangeS[0], toS: view.timeRangeS[1] }),
  });
  const spectrogram = useAnswer('recording.spectrogram', {
    visitId,
    recording,
    channel: view.spectrogramChannel,
    maximumHz: HIGHEST_FREQUENCY_HZ,
  });
  const own = useMemo(() => strikes.filter((s) => s.recording === info?.file), [strikes, info]);
  const [fromS, toS] = shown;
  const figure = useMemo(
    () =>
      waveform.value &&
      drawRecording(
        palette,
        waveform.value,
        spectrogram.value,
        own,
        view.strike,
        planes,
        [fromS, toS],
        view.frequencyRangeHz,
      ),
    [palette, waveform.value, spectrogram.value, own, view.strike, planes, fromS, toS, view.frequencyRangeHz],
  );
  if (!info) return null;
  const failure = waveform.failure ?? spectrogram.failure;

  return (
    <Panel
      title="Recording"
      table={tableOf(info, own, waveform.value)}
      controls={
        <>
          <RangeFields
            name="Time"
            unit="s"
            range={shown}
            whole={whole}
            decimals={TIME_DECIMALS}
            onChange={(timeRangeS) => look({ timeRangeS })}
          />
          <label>
            <span className="visually-hidden">Channel of the spectrogram</span>
            <select
              value={view.spectrogramChannel}
              onChange={(event) => look({ spectrogramChannel: Number(event.currentTarget.value) })}
            >
              {info.azimuthsDeg.map((azimuthDeg, channel) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: channels have no other name than their place.
                <option key={channel} value={channel}>
                  spectrogram {nameAzimuth(azimuthDeg)}
                </option>
              ))}
            </select>
          </label>
        </>
      }
    >
      <div className="strike-bar">
        <label>
          <span className="visually-hidden">Recording</span>
          <select
            value={recording}
            onChange={(event) =>
              look({
                recording: Number(event.currentTarget.value),
                strike: 0,
                timeRangeS: null,
                spectrogramChannel: 0,
              })
            }
          >
            {bench.recordings.map((r) => (
              <option key={r.index} value={r.index}>
                {r.exciter}: {r.file}
              </option>
            ))}
          </select>
        </label>
        <StrikeChoice strikes={own} chosen={view.strike} onChoose={(strike) => look({ strike })} />
        {info.warnings.length > 0 && (
          <span className="recording-warning" title={info.warnings.join('\n')}>
            remark on this file, see Strikes
          </span>
        )}
      </div>
      {failure && <ErrorNote failure={failure} />}
      {!figure && !failure && <Waiting what={`Reading ${info.file}.`} />}
      {figure && (
        <Figure
          label={labelOf(info, own)}
          data={figure.data}
          layout={figure.layout}
          onRange={(axis, range) => {
            if (range === null) look({ timeRangeS: null });
            else if (axis === 'xaxis')
              look({ timeRangeS: [Math.max(range[0], 0), Math.min(range[1], whole[1])] });
            else look({ frequencyRangeHz: [Math.max(range[0], 0), range[1]] });
          }}
          onPointer={(at) => useCursor.getState().point(readPointer(at, shown, view.frequencyRangeHz))}
        >
          {(size) => (
            <RecordingCursor {...size} timeRangeS={shown} frequencyRangeHz={view.frequencyRangeHz} />
          )}
        </Figure>
      )}
    </Panel>
  );
}

function StrikeChoice({
  strikes,
  chosen,
  onChoose,
}: {
  strikes: readonly Strike[];
  chosen: number | null;
  onChoose: (strike: number | null) => void;
}) {
  return (
    <fieldset className="choice">
      <legend className="visually-hidden">Strike</legend>
      <span aria-hidden className="quiet">
        Strike
      </span>
      {strikes.map((strike, index) => (
        <button
          key={strike.startS}
          type="button"
          aria-pressed={chosen === index}
          onClick={() => onChoose(index)}
        >
          {index + 1} <VerdictMark verdict={strike.verdict} />
        </button>
      ))}
      <button type="button" aria-pressed={chosen === null} onClick={() => onChoose(null)}>
        whole recording
      </button>
    </fieldset>
  );
}

/** Vertical frame of the spectrogram and horizontal frame of time, in pixels of the figure. */
function framesOf(width: number, height: number, timeRangeS: Range, frequencyRangeHz: Range) {
  const inner = height - MARGIN.t - MARGIN.b;
  const time: Frame = { startPx: MARGIN.l, endPx: width - MARGIN.r, range: timeRangeS };
  const frequency: Frame = {
    startPx: MARGIN.t + inner,
    endPx: MARGIN.t + inner * (WAVEFORM_SHARE + GAP),
    range: frequencyRangeHz,
  };
  return { time, frequency };
}

function readPointer(
  at: { x: number; y: number; width: number; height: number } | null,
  timeRangeS: Range,
  frequencyRangeHz: Range,
): { timeS: number | null; frequencyHz: number | null } {
  if (!at) return { timeS: null, frequencyHz: null };
  const { time, frequency } = framesOf(at.width, at.height, timeRangeS, frequencyRangeHz);
  const within = at.x >= time.startPx && at.x <= time.endPx;
  const inLevels = within && at.y >= frequency.endPx && at.y <= frequency.startPx;
  return {
    timeS: within ? valueAt(time, at.x) : null,
    frequencyHz: inLevels ? valueAt(frequency, at.y) : null,
  };
}

function RecordingCursor(props: {
  width: number;
  height: number;
  timeRangeS: Range;
  frequencyRangeHz: Range;
}) {
  const { timeS, frequencyHz } = useCursor();
  const { time, frequency } = framesOf(props.width, props.height, props.timeRangeS, props.frequencyRangeHz);
  const inRange =
    frequencyHz !== null && frequencyHz >= frequency.range[0] && frequencyHz <= frequency.range[1];
  return (
    <div className="cursor-layer" aria-hidden>
      {timeS !== null && (
        <>
          <div className="cursor-v" style={{ left: pixelOf(time, timeS), top: MARGIN.t, bottom: MARGIN.b }} />
          <div className="cursor-words" style={{ left: pixelOf(time, timeS), top: MARGIN.t }}>
            {timeS.toFixed(3)} s
          </div>
        </>
      )}
      {inRange && (
        <div
          className="cursor-h"
          style={{ top: pixelOf(frequency, frequencyHz), left: MARGIN.l, right: MARGIN.r }}
        />
      )}
    </div>
  );
}

function drawRecording(
  palette: Palette,
  waveform: Waveform,
  spectrogram: Spectrogram | null,
  strikes: readonly Strike[],
  chosen: number | null,
  planes: readonly Plane[],
  timeRangeS: Range,
  frequencyRangeHz: Range,
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
    range: [...frequencyRangeHz],
    fixedrange: false,
    nticks: 5,
  };
  if (spectrogram) {
    const loudest = Math.max(...spectrogram.values.map((row) => Math.max(...row)));
    data.push({
      type: 'heatmap',
      x: spectrogram.timesS,
      y: spectrogram.frequenciesHz,
      z: spectrogram.values,
      yaxis: `y${levelAxis}`,
      colorscale: LEVEL_SCALE,
      zmin: loudest - SHOWN_DECIBELS,
      zmax: loudest,
      colorbar: {
        thickness: 9,
        x: 1,
        xpad: 6,
        y: 0,
        yanchor: 'bottom',
        len: 1 - WAVEFORM_SHARE - GAP,
        ypad: 0,
        outlinewidth: 0,
        nticks: 4,
        ticksuffix: ' dB',
        showticksuffix: 'last',
      },
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
        ticksuffix: ' s',
        showticksuffix: 'last',
        range: [...timeRangeS],
        fixedrange: false,
        anchor: `y${levelAxis}`,
      },
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
          text: `${Math.round(channel.azimuthDeg)}°<br>m/s²`,
          font: { size: 12, color: palette.quiet },
        })),
      ],
    } as unknown as Partial<Layout>,
  };
}

/** The largest of 1, 2, 3, 5 times a power of ten that a value reaches. */
function roundDown(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value));
  return power * ([5, 3, 2].find((step) => step * power <= value) ?? 1);
}

function labelOf(info: RecordingInfo, strikes: readonly Strike[]): string {
  const verdicts = strikes
    .map((s, i) => `strike ${i + 1} at ${s.startS.toFixed(2)} s: ${s.verdict}`)
    .join('; ');
  return `Waveform and spectrogram of ${info.file}, ${formatSignificant(info.durationS)} s. ${verdicts}`;
}

function tableOf(
  info: RecordingInfo,
  strikes: readonly Strike[],
  waveform: Waveform | null,
): DataTableContent {
  const peak = (strike: Strike, channel: number) => {
    const trace = waveform?.channels[channel];
    const inside = waveform?.timesS.flatMap((t, i) =>
      t >= strike.startS && t <= strike.endS ? [Math.max(trace?.high[i] ?? 0, -(trace?.low[i] ?? 0))] : [],
    );
    return inside?.length ? formatSignificant(Math.max(...inside)) : 'not in view';
  };
  return {
    caption: `Strikes of ${info.file}, ${info.exciter}, ${formatSignificant(info.sampleRateHz)} samples a second`,
    columns: [
      'Strike',
      'Start, s',
      'End, s',
      'Verdict',
      ...info.azimuthsDeg.map((a, i) => `Channel ${i + 1}, ${nameAzimuth(a)}: peak, m/s²`),
    ],
    rows: strikes.map((strike, i) => [
      String(i + 1),
      strike.startS.toFixed(2),
      strike.endS.toFixed(2),
      strike.verdict,
      ...info.azimuthsDeg.map((_, channel) => peak(strike, channel)),
    ]),
  };
}
