/**
 * Recording: what comes in. Reads WAV, CSV and UFF files and the visit file, refuses what cannot be trusted with a
 * typed error that names the place and the remedy, and brings the channels of a visit to m/s2.
 */
export { type CalibratedRecording, calibrateChannels } from './calibrateChannels.ts';
export { decodeCsv, guessDelimiter } from './csvText.ts';
export { describeAsUff } from './describeAsUff.ts';
export { buildLowPassTaps, DECIMATION_PASS_SHARE } from './lowPassTaps.ts';
export { readCalibrated } from './readCalibrated.ts';
export { readCsv } from './readCsv.ts';
export { readRecording } from './readRecording.ts';
export { readUff } from './readUff.ts';
export { readWav } from './readWav.ts';
export { RECORDING_LIMITS, type Recording } from './recording.ts';
export type { UffDataset } from './uffDataset.ts';
export * from './visitFile.ts';
export { writeUff } from './writeUff.ts';
