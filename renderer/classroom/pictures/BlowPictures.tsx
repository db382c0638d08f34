import { useMemo } from 'react';
import { ErrorNote, Panel, usePalette, Waiting } from '../../parts/index.ts';
import { Figure, paintLevels } from '../../plots/index.ts';
import { type Range, useCursor } from '../../state/index.ts';
import { FIRST_FREQUENCY_RANGE_HZ, type PictureView } from '../classroomStore.ts';
import type { FaultMark } from '../classroomTypes.ts';
import { drawSpectrogram } from './drawSpectrogram.ts';
import { drawSpectrum } from './drawSpectrum.ts';
import { drawWaveform, nameStrips } from './drawWaveform.ts';
import { endsBefore } from './endsBefore.ts';
import { LinkedCursor } from './LinkedCursor.tsx';
import { readAcross, readUp } from './pictureFrames.ts';
import { tabulateSpectrogram, tabulateSpectrum, tabulateWaveform } from './tabulatePictures.ts';
import type { Pictures } from './usePictures.ts';

export type Heights = { greatest: number; highest: number; loudest: number };

type BlowPicturesProps = {
  /** Of the blow, for screen readers: `the blow at the left`. */
  name: string;
  /** What tells the titles of its pictures from those of another blow: `left`; empty where it is alone. */
  side: string;
  pictures: Pictures;
  view: PictureView;
  /** Time shown, the same for all blows that are compared. */
  timeRangeS: Range;
  /** Up to where each picture is drawn. */
  heights: Heights;
  marks: readonly FaultMark[];
  onLook(change: Partial<PictureView>): void;
};

/** The pictures of one blow that were asked for, one under the other. */
export function BlowPictures(props: BlowPicturesProps) {
  const { name, pictures, view } = props;
  const { waveform, spectrum, spectrogram, failure } = pictures;
  const shows = (picture: PictureView['pictures'][number]) => view.pictures.includes(picture);
  if (failure) return <ErrorNote failure={failure} />;
  if (!waveform) return <Waiting what={`Reading ${name}.`} />;
  return (
    <>
      {shows('waveform') && <WaveformPanel {...props} waveform={waveform} />}
      {shows('spectrum') && spectrum && <SpectrumPanel {...props} spectrum={spectrum} />}
      {shows('spectrogram') && spectrogram && <SpectrogramPanel {...props} spectrogram={spectrogram} />}
    </>
  );
}

function titleOf(picture: string, side: string): string {
  return side === '' ? picture : `${picture}, ${side}`;
}

/** `second impact, hum, 50 Hz`, for the name of a picture. */
function nameMarks(marks: readonly FaultMark[]): string {
  const words = [...new Set(marks.map((mark) => mark.words))];
  return words.length === 0 ? '' : ` Marked: ${words.join('; ')}.`;
}

function WaveformPanel({
  name,
  side,
  waveform,
  timeRangeS,
  heights,
  marks,
  onLook,
}: BlowPicturesProps & { waveform: NonNullable<Pictures['waveform']> }) {
  const palette = usePalette();
  const figure = useMemo(
    () => drawWaveform(palette, waveform, marks, timeRangeS, heights.greatest),
    [palette, waveform, marks, timeRangeS, heights.greatest],
  );
  return (
    <Panel
      title={titleOf('Waveform', side)}
      remark={nameStrips(waveform)}
      table={tabulateWaveform(name, waveform, marks)}
    >
      <Figure
        label={`Waveform of ${name}.${nameMarks(marks)}`}
        {...figure}
        onRange={(axis, range) => {
          if (range === null) onLook({ timeRangeS: null });
          else if (axis === 'xaxis') onLook({ timeRangeS: range });
        }}
        onPointer={(at) =>
          useCursor.getState().point({ timeS: readAcross(at, timeRangeS), frequencyHz: null })
        }
      >
        {(size) => <LinkedCursor {...size} across="time" range={timeRangeS} />}
      </Figure>
    </Panel>
  );
}

function SpectrumPanel({
  name,
  side,
  spectrum,
  view,
  heights,
  marks,
  onLook,
}: BlowPicturesProps & { spectrum: NonNullable<Pictures['spectrum']> }) {
  const palette = usePalette();
  const range = view.frequencyRangeHz;
  const figure = useMemo(
    () => drawSpectrum(palette, spectrum, marks, range, heights.highest),
    [palette, spectrum, marks, range, heights.highest],
  );
  return (
    <Panel title={titleOf('Spectrum', side)} table={tabulateSpectrum(name, spectrum)}>
      <Figure
        label={`Spectrum of ${name}, both axes.${nameMarks(marks.filter(({ frequencyHz }) => frequencyHz))}`}
        {...figure}
        onRange={(axis, zoomed) => {
          if (zoomed === null) onLook({ frequencyRangeHz: FIRST_FREQUENCY_RANGE_HZ });
          else if (axis === 'xaxis') onLook({ frequencyRangeHz: [Math.max(zoomed[0], 0), zoomed[1]] });
        }}
        onPointer={(at) => useCursor.getState().point({ timeS: null, frequencyHz: readAcross(at, range) })}
      >
        {(size) => <LinkedCursor {...size} across="frequency" range={range} />}
      </Figure>
    </Panel>
  );
}

function SpectrogramPanel({
  name,
  side,
  spectrogram,
  view,
  timeRangeS,
  heights,
  marks,
  onLook,
}: BlowPicturesProps & { spectrogram: NonNullable<Pictures['spectrogram']> }) {
  const palette = usePalette();
  const range = view.frequencyRangeHz;
  const picture = useMemo(() => paintLevels(spectrogram, heights.loudest), [spectrogram, heights.loudest]);
  const figure = useMemo(
    () => drawSpectrogram(palette, spectrogram, picture, marks, timeRangeS, range),
    [palette, spectrogram, picture, marks, timeRangeS, range],
  );
  const isTooShort = view.sharpIn === 'frequency' && endsBefore(spectrogram, timeRangeS);
  return (
    <Panel
      title={titleOf('Spectrogram', side)}
      remark={isTooShort && 'too short a record: see it sharp in time'}
      table={tabulateSpectrogram(name, spectrogram)}
    >
      <Figure
        label={`Spectrogram of ${name}.`}
        {...figure}
        onRange={(axis, zoomed) => {
          if (zoomed === null) onLook({ timeRangeS: null, frequencyRangeHz: FIRST_FREQUENCY_RANGE_HZ });
          else if (axis === 'xaxis') onLook({ timeRangeS: zoomed });
          else onLook({ frequencyRangeHz: [Math.max(zoomed[0], 0), zoomed[1]] });
        }}
        onPointer={(at) =>
          useCursor.getState().point({ timeS: readAcross(at, timeRangeS), frequencyHz: readUp(at, range) })
        }
      >
        {(size) => <LinkedCursor {...size} across="time" range={timeRangeS} upRange={range} />}
      </Figure>
    </Panel>
  );
}
