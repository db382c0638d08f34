import { InputError } from '../errors.ts';

/**
 * Removes the damping that an exponential window added: zeta = zeta_measured - 1 / (2 pi f tau), since the window
 * multiplies exp(-zeta omega t) by exp(-t / tau) (closed form). A result below zero says that the record shows no
 * more damping than its window has, and is returned as such.
 * @param dampingRatio - as measured under the window
 * @param frequencyHz - natural frequency of the mode, above zero
 * @param timeConstantS - tau of the window, above zero
 * @throws InputError `signal.window`
 */
export function correctDampingForWindow(
  dampingRatio: number,
  frequencyHz: number,
  timeConstantS: number,
): number {
  checkPositive('frequencyHz', frequencyHz);
  checkPositive('timeConstantS', timeConstantS);
  return dampingRatio - 1 / (2 * Math.PI * frequencyHz * timeConstantS);
}

function checkPositive(name: string, value: number): void {
  if (value > 0 && Number.isFinite(value)) return;
  throw new InputError(
    'signal.window',
    `Field ${name} of an exponential window is ${value}; a number above zero is expected.`,
    'Give the time constant of the window, and the frequency of the mode, as numbers above zero.',
  );
}
