/**
 * The parametric method against the same equations solved by NumPy and SciPy (Virtanen et al. 2020, Nature Methods
 * 17:261-272), asked at test time: one denominator for all channels by normal equations of dense arrays, and one decay
 * by scipy.optimize.least_squares with the linear coefficients eliminated. Agreement: 1e-6 of the frequency for poles
 * that ring, whose systems have a condition of 1e10 and more; 1e-7 for the decay, where both searches stop within that.
 */
import { describe, expect, test } from 'vitest';
import { makeCommonJob, makeDecayJob } from '../modal/makePoleJobs.ts';
import { askScipy, hasScipy } from './askScipy.ts';

const available = hasScipy();
if (!available)
  console.warn(
    'SKIPPED: no SciPy at /usr/bin/python3, so poles were not held against it (apt-get install python3-scipy).',
  );

const ask = (question: object) => askScipy({ jobs: [question] }, 'polesReference.py').results[0]!;
/** Of the visit behind makeCommonJob. */
const TRUE_HZ = [10.4, 10.4 * 1.02];

describe.skipIf(!available)('poles beside SciPy', () => {
  test('common to twelve channels: those that ring agree at every order', () => {
    const { run, question } = makeCommonJob();
    const theirs = ask(question);
    const wanted = theirs.order!.map((order, i) => ({
      order,
      decayRate: theirs.decayRate![i]!,
      angularFrequency: theirs.angularFrequency![i]!,
    }));
    const found = run();
    for (const trueHz of TRUE_HZ) {
      const angular = 2 * Math.PI * trueHz;
      const pick = (poles: readonly (typeof wanted)[number][], order: number) =>
        poles
          .filter((pole) => pole.order === order)
          .reduce((a, b) =>
            Math.abs(b.angularFrequency - angular) < Math.abs(a.angularFrequency - angular) ? b : a,
          );
      for (let order = 4; order <= 16; order++) {
        const own = pick(found, order);
        const other = pick(wanted, order);
        expect(Math.abs(other.angularFrequency / angular - 1)).toBeLessThan(0.005);
        expect(Math.abs(own.angularFrequency / other.angularFrequency - 1)).toBeLessThan(1e-6);
        expect(Math.abs(own.decayRate / other.decayRate - 1)).toBeLessThan(1e-4);
      }
    }
  });

  test('of one decay in noise', () => {
    const { run, question } = makeDecayJob();
    const theirs = ask(question);
    const [pole] = run().poles;
    expect(Math.abs(pole!.angularFrequency / theirs.angularFrequency![0]! - 1)).toBeLessThan(1e-7);
    expect(Math.abs(pole!.decayRate / theirs.decayRate![0]! - 1)).toBeLessThan(1e-5);
  });
});
