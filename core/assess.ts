import type { Assessment, PickDecision, StemRootPicture } from './assessment.ts';
import type { VisitFile } from './recording/visitFile.ts';

/** A visit with the bytes of its recordings, by file name. */
export type VisitInput = {
  visitName: string;
  visit: VisitFile;
  recordings: ReadonlyMap<string, Uint8Array>;
};

export type AssessmentOutcome = { assessment: Assessment; picture: StemRootPicture | null };

/** What the recordings say before any analyst's decision: strikes, checks, mode candidates. Kept while picks change. */
export type AnalysedVisit = { input: VisitInput };

/** Reads and analyses the recordings of a visit: the slow half of the chain. */
export function analyseVisit(_input: VisitInput): AnalysedVisit {
  throw new Error('not built yet');
}

/** Fits stem and root to the modes, with the analyst's decisions, and concludes on strength: the quick half. */
export function concludeVisit(
  _analysed: AnalysedVisit,
  _decisions: readonly PickDecision[],
): AssessmentOutcome {
  throw new Error('not built yet');
}

/** The whole chain over one visit. */
export function assessVisit(input: VisitInput, decisions: readonly PickDecision[] = []): AssessmentOutcome {
  return concludeVisit(analyseVisit(input), decisions);
}
