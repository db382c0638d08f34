import { FitError, InputError } from './errors.ts';
import type { PoleModel } from './inference/index.ts';
import { judgeGirth } from './judgeGirth.ts';
import type { VisitFile } from './recording/index.ts';

/**
 * Does work on a pole's model. One that is too slender to stand is told by its girth, where that is far off its class.
 * @throws InputError `girth.offClass`, FitError `beam.unstable`, and whatever the work throws
 */
export function tellFall<T>(pole: VisitFile['pole'], model: PoleModel, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof FitError) || error.code !== 'beam.unstable') throw error;
    const girth = judgeGirth(pole, model);
    if (!girth?.isFar) throw error;
    throw new InputError(
      'girth.offClass',
      `A pole this thin could not carry its own weight and what hangs on it. ${girth.words}`,
      'Measure the circumference again, with a tape around the pole, and check the class; correct measured.circumferences and assess anew.',
    );
  }
}
