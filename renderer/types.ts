import type { Bench, CallResponse } from '../core/workspace/contract.ts';

/** Names for the parts of answers that screens pass around; all derive from the contract. */
export type {
  Bench,
  CallAnswer,
  CallName,
  CallRequest,
  CallResponse,
  RegisterRow,
  Ruling,
} from '../core/workspace/contract.ts';

export type Assessment = NonNullable<Bench['assessment']>;
export type Picture = NonNullable<Bench['picture']>;
export type PickDecision = Bench['decisions'][number];
export type Strike = Assessment['strikes'][number];
export type Check = Strike['checks'][number];
export type CheckVerdict = Check['verdict'];
export type Failure = NonNullable<Bench['failure']>;
export type Estimate = NonNullable<Assessment['stem']>['modulusPa'];
export type RecordingInfo = Bench['recordings'][number];
export type ImportOutcome = CallResponse<'visits.import'>['outcomes'][number];
export type Waveform = CallResponse<'recording.waveform'>;
export type Spectrum = CallResponse<'recording.spectrum'>;
export type Spectrogram = CallResponse<'recording.spectrogram'>;
export type Stabilisation = CallResponse<'visit.stabilisation'>;
export type Cluster = Stabilisation['clusters'][number];
export type WhatIf = CallResponse<'visit.whatIf'>;
