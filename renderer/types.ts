import type { Bench, CallRequest, CallResponse, RegisterQuery } from '../core/workspace/contract.ts';

/** Names for the parts of answers that screens pass around; all derive from the contract. */
export type {
  Bench,
  CallAnswer,
  CallName,
  CallRequest,
  CallResponse,
  RegisterQuery,
  RegisterRow,
  Ruling,
} from '../core/workspace/contract.ts';

export type Assessment = NonNullable<Bench['assessment']>;
export type Picture = NonNullable<Bench['picture']>;
export type Decision = Bench['decisions'][number];
type OfKind<K extends string> = Extract<Decision, { kind: K }>;
export type PickDecision = Exclude<Decision, { kind: string }>;
export type Refusal = OfKind<'refusal'>;
export type StrikeDecision = OfKind<'strike'>;
export type PriorDecision = OfKind<'prior'>;
/** A prior that is a range of one quantity. */
export type RangedPrior = Exclude<PriorDecision['prior'], { name: 'rootModels' }>;
/** How much each root model is believed before any pick, relative to the others. */
export type RootShares = Omit<Extract<PriorDecision['prior'], { name: 'rootModels' }>, 'name'>;
export type Prior = Assessment['priors'][number];
export type Strike = Assessment['strikes'][number];
export type Check = Strike['checks'][number];
export type CheckVerdict = Check['verdict'];
export type Failure = NonNullable<Bench['failure']>;
export type Estimate = NonNullable<Assessment['stem']>['modulusPa'];
export type RecordingInfo = Bench['recordings'][number];
export type Reading = CallResponse<'visit.recordings'>['readings'][number];
export type ImportOutcome = CallResponse<'visits.import'>['outcomes'][number];
export type Waveform = CallResponse<'recording.waveform'>;
export type Spectrum = CallResponse<'recording.spectrum'>;
export type Spectrogram = CallResponse<'recording.spectrogram'>;
export type Stabilisation = CallResponse<'visit.stabilisation'>;
export type Cluster = Stabilisation['clusters'][number];
export type WhatIf = CallResponse<'visit.whatIf'>;
/** A query of the register that somebody gave a name. */
export type SavedView = { name: string; query: RegisterQuery };
export type ReportSubject = CallRequest<'reports.make'>['subject'];
export type ReportFormat = CallRequest<'reports.make'>['format'];
export type PoleHistory = CallResponse<'pole.history'>;
export type HistoryVisit = PoleHistory['visits'][number];
