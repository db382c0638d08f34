import { assessVisit, type VisitInput } from '../core/assess.ts';
import type { Assessment, AssessmentFailure } from '../core/assessment.ts';
import { StemrootError } from '../core/errors.ts';
import { describeFailure } from '../core/workspace/index.ts';
import { readVisit } from './visitFiles.ts';

/** Runs the chain over a visit file; whatever stops it becomes the visit's result. */
export function assessFile(path: string): Assessment | AssessmentFailure {
  let input: VisitInput | undefined;
  try {
    input = readVisit(path);
    return assessVisit(input).assessment;
  } catch (error) {
    return describeFailure(path, input?.visit.pole.id ?? null, asStemrootError(error, path));
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
