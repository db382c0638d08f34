import { vi } from 'vitest';
import type { AnalysedVisit, AssessmentOutcome } from '../../core/assess.ts';
import { type Decision, sortDecisions } from '../../core/decisions.ts';
import { FitError } from '../../core/errors.ts';
import type { ReadVisit, VisitInput } from '../../core/readRecordings.ts';
import { assessment, makeInput } from '../report/fixture.ts';

/** A pole whose visits the fake chain cannot assess, and one over which it breaks. */
export const FAILING_POLE = 'TV-FAILS';
export const BREAKING_POLE = 'TV-BREAKS';

/**
 * Stands in for the chain where doors and store are tested: answers at once with the report's invented result,
 * moved to the first mode that the analyst decided on.
 */
export const fakeChain = {
  analyseVisit: vi.fn((input: VisitInput | ReadVisit) => ({ input }) as AnalysedVisit),
  concludeVisit: vi.fn(({ input }: AnalysedVisit, decisions: readonly Decision[]): AssessmentOutcome => {
    const poleId = input.visit.pole.id;
    if (poleId === FAILING_POLE)
      throw new FitError('fit.none', 'No mode was found.', 'Record the pole again.');
    if (poleId === BREAKING_POLE) throw new TypeError('undefined is not a pole');
    const modes = assessment.modes.map((mode, i) => {
      const decided = i === 0 ? sortDecisions(decisions).picks[0]?.frequencyHz : undefined;
      return decided ? { ...mode, frequencyHz: { ...mode.frequencyHz, value: decided } } : mode;
    });
    const own = { ...assessment, visit: input.visitName, poleId, modes, strikes: [], assignments: [] };
    return { assessment: own, picture: makeInput().picture, fit: null };
  }),
  assessVisit: (input: VisitInput, decisions: readonly Decision[] = []) =>
    fakeChain.concludeVisit(fakeChain.analyseVisit(input), decisions),
};
