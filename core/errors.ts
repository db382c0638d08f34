/**
 * The errors of Stemroot: a small tree with a stable code, a message that names the field, the value
 * received and what was expected, and a hint that says what to do next.
 */
export class StemrootError extends Error {
  readonly code: string;
  readonly hint: string;

  constructor(code: string, message: string, hint: string) {
    super(message);
    this.name = new.target.name;
    this.code = code;
    this.hint = hint;
  }
}

/** Something that a person or a file gave is missing, of the wrong kind, or out of range. */
export class InputError extends StemrootError {}

/** A file is not of the form that it claims to be. */
export class FormatError extends StemrootError {}

/** A model cannot be fitted to the data at hand. */
export class FitError extends StemrootError {}

/** The workspace cannot be opened, read or written. */
export class StoreError extends StemrootError {}
