import { type AssessmentOutcome, assessVisit } from '../core/assess.ts';
import type { AssessmentFailure } from '../core/assessment.ts';
import { StemrootError } from '../core/errors.ts';
import type { VisitInput } from '../core/readRecordings.ts';
import { describeFailure } from '../core/workspace/batch.ts';
import { readVisit } from './visitFiles.ts';

/** What came of a visit file; `input` is null where it or its recordings could not be read. */
export type AssessedFile = {
  input: VisitInput | null;
  result: AssessmentOutcome['assessment'] | AssessmentFailure;
  picture: AssessmentOutcome['picture'];
};

/** Runs the chain over a visit file; whatever stops it becomes the visit's result. */
export function assessFile(path: string): AssessedFile {
  let input: VisitInput | null = null;
  try {
    input = readVisit(path);
    const { assessment, picture } = assessVisit(input);
    return { input, result: assessment, picture };
  } catch (error) {
    const result = describeFailure(path, input?.visit.pole.id ?? null, asStemrootError(error, path));
    return { input, result, picture: null };
  }
}

function asStemrootError(error: unknown, path: string): StemrootError {
  if (error instanceof StemrootError) return error;
  console.error(`${path} failed:`, error);
  return new StemrootError(
    'internal',
    `The program met an error of its own over ${path}.`,
    'Report it with the visit file and what standard error says.',
  );
}
