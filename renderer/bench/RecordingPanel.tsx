import './signals.css';
import { memo, useMemo } from 'react';
import { ErrorNote, Panel, RangeFields, usePalette, Waiting } from '../parts/index.ts';
import { Figure, keepInside, loudestOf, paintLevels } from '../plots/index.ts';
import { type Range, useAnswer, useCursor, useSettings, useView } from '../state/index.ts';
import type { Bench, Reading, Strike } from '../types.ts';
import { nameAxis } from '../words/index.ts';
import { nameRecording, tabulateRecording } from './describeRecording.ts';
import { drawRecording } from './drawRecording.ts';
import { LevelScale } from './LevelScale.tsx';
import type { Plane } from './pickRows.ts';
import { RecordingCursor } from './RecordingCursor.tsx';
import { framesOf, readPointer } from './recordingFrames.ts';
import { StrikeChoice } from './StrikeChoice.tsx';

/** More columns than the panel has pixels at its widest. */
const COLUMNS = 900;
/** Envelopes are brought for as much on both sides as is in view, so that a pan finds them there. */
const SPANS_BROUGHT = 3;
const WHOLE_HZ: Range = [0, 80];
const TIME_DECIMALS = 2;

type RecordingPanelProps = {
  bench: Bench;
  readings: readonly Reading[];
  /** Of the recording in view. */
  strikes: readonly Strike[];
  strike: number | 'combined' | null;
  planes: readonly Plane[];
};

/** One recording in time: waveform of each channel with its strikes, and the spectrogram of one on the same time axis. */
export const RecordingPanel = memo(function RecordingPanel(props: RecordingPanelProps) {
  const { bench, readings, strikes, strike, planes } = props;
  const { settings, set } = useSettings();
  const { view, look } = useView();
  const palette = usePalette();
  const info = bench.recordings[settings.recording] ?? bench.recordings[0];
  const { visitId } = bench;
  const recording = info?.index ?? 0;
  const reading = readings[recording];
  const waveform = useAnswer('recording.waveform', {
    visitId,
    recording,
    ...(view.timeRangeS
      ? bringAround(view.timeRangeS, reading?.durationS ?? Number.POSITIVE_INFINITY)
      : { columns: COLUMNS }),
  });
  const spectrogram = useAnswer('recording.spectrogram', {
    visitId,
    recording,
    channel: settings.spectrogramChannel,
    maximumHz: WHOLE_HZ[1],
    frequencyScale: settings.spectrogramScale,
  });
  // of what is drawn, until the other is there
  const logarithmic = (spectrogram.value?.frequencyScale ?? settings.spectrogramScale) === 'log';
  const whole: Range = [0, reading?.durationS ?? waveform.value?.toS ?? 1];
  const shown = view.timeRangeS ?? whole;
  const [fromS, toS] = shown;
  // both stand in one figure, which is slow to draw twice
  const isSpectrogramKnown = spectrogram.value !== null || !spectrogram.waiting;
  const painted = useMemo(() => {
    if (!spectrogram.value) return null;
    const loudest = loudestOf(spectrogram.value);
    return { levels: spectrogram.value, loudest, picture: paintLevels(spectrogram.value, loudest) };
  }, [spectrogram.value]);
  const figure = useMemo(
    () =>
      waveform.value &&
      isSpectrogramKnown &&
      drawRecording(
        palette,
        waveform.value,
        painted,
        strikes,
        strike,
        planes,
        [fromS, toS],
        view.frequencyRangeHz,
        logarithmic,
      ),
    [
      palette,
      waveform.value,
      painted,
      isSpectrogramKnown,
      strikes,
      strike,
      planes,
      fromS,
      toS,
      view.frequencyRangeHz,
      logarithmic,
    ],
  );
  if (!info) return null;
  const failure = waveform.failure ?? spectrogram.failure;

  return (
    <Panel
      title="Recording"
      table={tabulateRecording(info, reading, strikes, waveform.value)}
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
              value={settings.spectrogramChannel}
              onChange={(event) =>
                set({ spectrogramChannel: Number(event.currentTarget.value) }, 'axis of the spectrogram')
              }
            >
              {info.azimuthsDeg.map((azimuthDeg, channel) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: channels have no other name than their place.
                <option key={channel} value={channel}>
                  spectrogram {nameAxis(azimuthDeg)}
                </option>
              ))}
            </select>
          </label>
          <label>
            <span className="visually-hidden">Frequency axis of the spectrogram</span>
            <select
              value={settings.spectrogramScale}
              onChange={(event) =>
                set(
                  { spectrogramScale: event.currentTarget.value === 'log' ? 'log' : 'linear' },
                  'frequency axis of the spectrogram',
                )
              }
            >
              <option value="linear">linear</option>
              <option value="log">log</option>
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
            onChange={(event) => {
              set(
                { recording: Number(event.currentTarget.value), strike: 'best', spectrogramChannel: 0 },
                'recording in view',
              );
              look({ timeRangeS: null });
            }}
          >
            {bench.recordings.map((r) => (
              <option key={r.index} value={r.index}>
                {r.exciter}: {r.file}
              </option>
            ))}
          </select>
        </label>
        <StrikeChoice
          strikes={strikes}
          chosen={strike}
          onChoose={(strike) => set({ strike }, 'strike in view')}
        />
        {reading && reading.warnings.length > 0 && (
          <span className="recording-warning" title={reading.warnings.join('\n')}>
            remark on this file, see Strikes
          </span>
        )}
      </div>
      {failure && <ErrorNote failure={failure} />}
      {!figure && !failure && <Waiting what={`Reading ${info.file}.`} />}
      {figure && (
        <Figure
          label={nameRecording(info, reading, strikes)}
          data={figure.data}
          layout={figure.layout}
          onRange={(axis, range) => {
            if (range === null) look({ timeRangeS: null });
            else if (axis === 'xaxis') look({ timeRangeS: keepInside(range, whole) });
            else {
              const hz: Range = logarithmic ? [10 ** range[0], 10 ** range[1]] : range;
              look({ frequencyRangeHz: keepInside(hz, WHOLE_HZ) });
            }
          }}
          onPointer={(at) =>
            useCursor.getState().point(readPointer(at, shown, view.frequencyRangeHz, logarithmic))
          }
        >
          {({ width, height }, moving) => {
            const { time, frequency } = framesOf(
              width,
              height,
              moving.xaxis ?? shown,
              view.frequencyRangeHz,
              logarithmic,
            );
            return (
              <>
                {painted && <LevelScale loudest={painted.loudest} across={time} up={frequency} />}
                <RecordingCursor time={time} frequency={frequency} />
              </>
            );
          }}
        </Figure>
      )}
    </Panel>
  );
});

/** The stretch to bring so that the range in view can be moved by its own width either way. */
function bringAround([fromS, toS]: Range, durationS: number) {
  const margin = ((toS - fromS) * (SPANS_BROUGHT - 1)) / 2;
  const [from, to] = [Math.max(fromS - margin, 0), Math.min(toS + margin, durationS)];
  return { fromS: from, toS: to, columns: Math.ceil((COLUMNS * (to - from)) / (toS - fromS)) };
}
