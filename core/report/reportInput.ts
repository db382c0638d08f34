import type { Assessment, AssessmentFailure, StemRootPicture } from '../assessment.ts';
import type { Decision } from '../decisions.ts';
import type { VisitFile } from '../recording/visitFile.ts';

/** What was added to a ruling, by whom and when (ISO 8601, UTC). */
export type ReportMark = { readonly person: string; readonly markedAt: string };

/** What an analyst decided about a visit, when, and why. */
export type ReportRuling = {
  readonly decidedAt: string;
  readonly analyst: string;
  readonly decision: string;
  readonly reason: string;
  /** A second signature, where somebody gave one. */
  readonly signed: ReportMark | null;
  /** Set where the ruling was taken back. */
  readonly withdrawn: (ReportMark & { readonly reason?: string | undefined }) | null;
  /** Whether it was made on the result that the report shows. */
  readonly isOnThisResult: boolean;
};

/** Least and greatest acceleration (m/s2) of each column of time; all arrays of one length. */
export type ReportWaveform = {
  readonly timesS: ArrayLike<number>;
  readonly channels: readonly {
    readonly azimuthDeg: number;
    readonly low: ArrayLike<number>;
    readonly high: ArrayLike<number>;
  }[];
};

/** A recording as kept: what it is called, what it holds and which bytes it was. */
export type ReportRecording = {
  readonly file: string;
  readonly exciter: string;
  readonly sampleRateHz: number;
  readonly durationS: number;
  readonly sha256: string;
  readonly warnings: readonly string[];
  readonly waveform: ReportWaveform;
};

/** Amplitude spectrum of one strike, one-sided, for each channel; all arrays of one length. */
export type ReportSpectrum = {
  readonly recording: string;
  /** Place among the strikes of its recording, from 0. */
  readonly strike: number;
  readonly window: string;
  readonly unit: string;
  readonly frequenciesHz: ArrayLike<number>;
  readonly channels: readonly { readonly azimuthDeg: number; readonly values: ArrayLike<number> }[];
};

/** The calibration that turned stem and root into strength, for the reader who wants to look it up. */
export type ReportCalibration = { readonly title: string; readonly sources: readonly string[] };

/** Everything that one visit's report shows. The same input gives the same file, byte for byte. */
export type ReportInput = {
  /** Name and version of the program that prints. */
  readonly program: string;
  /** Time of printing, ISO 8601, UTC. */
  readonly printedAt: string;
  readonly visit: VisitFile;
  readonly assessment: Assessment | AssessmentFailure;
  readonly picture: StemRootPicture | null;
  /** What is told of the visit beside the others of its workspace. */
  readonly compared: Assessment['findings'];
  readonly calibration: ReportCalibration | null;
  readonly rulings: readonly ReportRuling[];
  readonly decisions: readonly Decision[];
  /** Who stored the result that rests on these decisions, and when (ISO 8601, UTC); null where that is not known. */
  readonly stored: { readonly by: string; readonly at: string } | null;
  readonly recordings: readonly ReportRecording[];
  readonly spectra: readonly ReportSpectrum[];
};

/** A report whose visit went through the chain, to a result or to a reason why there is none. */
export type ConcludedInput = ReportInput & { readonly assessment: Assessment };

export function isConcluded(input: ReportInput): input is ConcludedInput {
  return 'strikes' in input.assessment;
}
