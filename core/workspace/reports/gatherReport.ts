import type { Assessment, AssessmentFailure, StemRootPicture } from '../../assessment.ts';
import type { Decision } from '../../decisions.ts';
import { PROGRAM } from '../../program.ts';
import type { CalibratedRecording, VisitFile } from '../../recording/index.ts';
import type { ReportInput, ReportSpectrum } from '../../report/index.ts';
import type { Calibration } from '../../strength/index.ts';
import type { Ruling } from '../contract.ts';
import { viewSpectrum } from '../viewSpectrum.ts';
import { viewWaveform } from '../viewWaveform.ts';

/** As many columns as a printed figure of a page's width resolves at 300 dots an inch and half of that. */
const PRINTED_COLUMNS = 1000;
/** Third modes of poles lie below this; see the report's figures for what is drawn of it. */
const PRINTED_HZ = 80;

export type ReportSubject = {
  visit: VisitFile;
  result: Assessment | AssessmentFailure;
  picture: StemRootPicture | null;
  decisions: readonly Decision[];
  /** Absent: not known, or the result is not stored. */
  stored?: ReportInput['stored'] | undefined;
  /** Absent: no other visit is known. */
  compared?: ReportInput['compared'];
  /** Absent: the result is not stored. */
  assessmentId?: number;
  rulings: readonly Ruling[];
  /** The one that the result names; absent where there is none of it. */
  calibration?: Calibration | undefined;
  recordings: readonly { sha256: string; recording: CalibratedRecording }[];
};

/** Gathers what the report of one visit shows. @param printedAt - ISO 8601, UTC */
export function gatherReport(subject: ReportSubject, printedAt: string): ReportInput {
  const { visit, result, picture, decisions, rulings, recordings } = subject;
  return {
    program: PROGRAM,
    printedAt,
    visit,
    assessment: result,
    picture,
    compared: subject.compared ?? [],
    calibration: describeCalibration(result, subject.calibration),
    rulings: rulings.map((ruling) => ({
      ...ruling,
      isOnThisResult: ruling.assessmentId === (subject.assessmentId ?? null),
    })),
    decisions,
    stored: subject.stored ?? null,
    recordings: recordings.map(({ sha256, recording }) => ({
      file: recording.fileName,
      exciter: recording.exciter,
      sampleRateHz: recording.sampleRateHz,
      durationS: recording.frames / recording.sampleRateHz,
      sha256,
      warnings: recording.warnings.map((warning) => warning.message),
      waveform: viewWaveform(recording, { columns: PRINTED_COLUMNS }),
    })),
    spectra: recordings.flatMap(({ recording }) => drawSpectra(recording, result)),
  };
}

function drawSpectra(
  recording: CalibratedRecording,
  result: Assessment | AssessmentFailure,
): ReportSpectrum[] {
  if ('error' in result) return [];
  const strikes = result.strikes.filter((strike) => strike.recording === recording.fileName);
  return strikes.map(({ startS, endS }, strike) => ({
    recording: recording.fileName,
    strike,
    ...viewSpectrum(recording, { stretches: [{ startS, endS }], kind: 'amplitude', maximumHz: PRINTED_HZ }),
  }));
}

function describeCalibration(
  result: Assessment | AssessmentFailure,
  calibration: Calibration | undefined,
): ReportInput['calibration'] {
  if ('error' in result || !result.strength) return null;
  const label = result.strength.calibration;
  if (!calibration) return { title: label, sources: [] };
  return { title: `${label}. ${calibration.describe()}`, sources: [calibration.source] };
}
