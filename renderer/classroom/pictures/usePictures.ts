import { useAnswer } from '../../state/index.ts';
import type { Failure } from '../../types.ts';
import type { PictureView } from '../classroomStore.ts';
import type { Of, Spectrogram, Spectrum, Waveform } from '../classroomTypes.ts';

/** More columns than a picture has pixels over half of a window. */
const COLUMNS = 900;
/** Asked for in steps, so that a range that is being dragged asks seldom. */
const STEP_HZ = 20;

export type Pictures = {
  waveform: Waveform | null;
  spectrum: Spectrum | null;
  spectrogram: Spectrogram | null;
  failure: Failure | null;
};

/** Asks for the pictures of a blow that are shown. @param of - null: no blow is laid here */
export function usePictures(of: Of | null, view: PictureView): Pictures {
  const { pictures, timeRangeS, frequencyRangeHz, channel, sharpIn } = view;
  const maximumHz = Math.ceil(frequencyRangeHz[1] / STEP_HZ) * STEP_HZ;
  const waveform = useAnswer(
    'classroom.waveform',
    of && {
      of,
      columns: COLUMNS,
      ...(timeRangeS && { fromS: timeRangeS[0], toS: timeRangeS[1] }),
    },
  );
  // of two blows one may have fewer axes than are to choose from
  const lastChannel = (waveform.value?.channels.length ?? channel + 1) - 1;
  const spectrum = useAnswer(
    'classroom.spectrum',
    of && pictures.includes('spectrum') ? { of, maximumHz } : null,
  );
  const spectrogram = useAnswer(
    'classroom.spectrogram',
    of && pictures.includes('spectrogram')
      ? { of, maximumHz, channel: Math.min(channel, lastChannel), sharpIn }
      : null,
  );
  return {
    waveform: of && waveform.value,
    spectrum: of && spectrum.value,
    spectrogram: of && spectrogram.value,
    failure: waveform.failure ?? spectrum.failure ?? spectrogram.failure,
  };
}
