import type { recordingCalls } from '../contract/recordingCalls.ts';
import type { HandlersOf } from '../handlers.ts';
import type { RecordingReader } from '../recordingReader.ts';
import { viewSpectrogram } from '../viewSpectrogram.ts';
import { viewSpectrum } from '../viewSpectrum.ts';
import { viewWaveform } from '../viewWaveform.ts';

export function createRecordingHandlers(reader: RecordingReader): HandlersOf<typeof recordingCalls> {
  return {
    'recording.waveform': async ({ visitId, recording, fromS, toS, columns }) =>
      viewWaveform(await reader.readOne(visitId, recording), {
        columns,
        ...(fromS !== undefined && { fromS }),
        ...(toS !== undefined && { toS }),
      }),
    'recording.spectrum': async ({ visitId, recording, ...view }) =>
      viewSpectrum(await reader.readOne(visitId, recording), view),
    'recording.spectrogram': async ({ visitId, recording, ...view }) =>
      viewSpectrogram(await reader.readOne(visitId, recording), view),
  };
}
