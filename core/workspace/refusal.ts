import { StemrootError } from '../errors.ts';
import { reportError } from '../reportError.ts';

/** Why a call was not answered, in the form of the contract. */
export type Refusal = {
  readonly ok: false;
  readonly code: string;
  readonly message: string;
  readonly hint: string;
};

/** A refusal in the form of the contract. */
export function refuse(code: string, message: string, hint: string): Refusal {
  return { ok: false, code, message, hint };
}

/** What is thrown as a refusal; an error that is nobody's input is written to standard error and told without detail. */
export function toRefusal(error: unknown, name: string): Refusal {
  if (error instanceof StemrootError) return refuse(error.code, error.message, error.hint);
  reportError(`${name} failed`, error);
  return refuse(
    'internal',
    'The program met an error of its own; nothing was stored.',
    'Try again; if it stays, report what was done just before and what standard error says.',
  );
}
