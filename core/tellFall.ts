import { FitError, InputError } from './errors.ts';
import type { PoleModel } from './inference/index.ts';
import { judgeGirth } from './judgeGirth.ts';
import type { VisitFile } from './recording/index.ts';

/**
 * Does work on a pole's model. One that is too slender to stand is told by its girth, where that is far off its class, else by the
 * prior of its modulus, where the visit sets one.
 * @throws InputError `girth.offClass`, `prior.unstable`, FitError `beam.unstable`, and whatever the work throws
 */
export function tellFall<T>(pole: VisitFile['pole'], model: PoleModel, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof FitError) || error.code !== 'beam.unstable') throw error;
    const girth = judgeGirth(pole, model);
    if (girth?.isFar) {
      throw new InputError(
        'girth.offClass',
        `A pole this thin could not carry its own weight and what hangs on it. ${girth.words}`,
        'Measure the circumference again, with a tape around the pole, and check the class; correct measured.circumferences and assess anew.',
      );
    }
    if (!model.givenPriors.includes('modulusPa')) throw error;
    const { median, logSd } = model.modulus;
    throw new InputError(
      'prior.unstable',
      `The prior set for the stem modulus (${(median / 1e9).toPrecision(3)} GPa, logSd ${logSd}) reaches so low that the pole could not carry its own weight and what hangs on it.`,
      'Set a prior of smaller logSd or greater median; where it is meant so, check circumferences and masses.',
    );
  }
}
