import { InvalidArgumentError } from 'commander';

/** A number of a command line that has to be above 0. @throws InvalidArgumentError */
export function parsePositive(text: string): number {
  const value = Number(text);
  if (value > 0 && Number.isFinite(value)) return value;
  throw new InvalidArgumentError('A number above 0 is expected.');
}
