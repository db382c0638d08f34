import type { CallRequest, CallResponse } from '../types.ts';

/** Names for the parts of answers that this place passes around; all derive from the contract. */
export type Overview = CallResponse<'calibration.overview'>;
export type ListedCalibration = Overview['calibrations'][number];
export type PredictorInfo = Overview['predictors'][number];
export type Tests = CallResponse<'calibration.tests'>;
export type KeptTest = Tests['tests'][number];
export type Candidate = CallRequest<'calibration.tryRelations'>['candidates'][number];
export type RelationSpec = Candidate['spec'];
export type TriedRelations = CallResponse<'calibration.tryRelations'>;
export type JudgedRelation = NonNullable<TriedRelations['relations'][number]['judged']>;
export type Appraisal = CallResponse<'calibration.appraise'>;
export type Learning = CallResponse<'calibration.learning'>;
export type JudgedTest = JudgedRelation['tests'][number];
export type PriceRequest = CallRequest<'calibration.price'>;
export type Price = CallResponse<'calibration.price'>;
export type RequirementProfile = CallResponse<'profiles.list'>['profiles'][number]['profile'];
export type KeptProfile = CallResponse<'profiles.list'>['profiles'][number];
export type ProfileSettings = CallResponse<'profiles.settings'>;
export type TriedPole = CallRequest<'profiles.try'>['pole'];
export type RecomputeProgress = CallResponse<'calibration.recomputeProgress'>;
export type Differences = CallResponse<'calibration.differences'>;
export type Difference = Differences['rows'][number];
