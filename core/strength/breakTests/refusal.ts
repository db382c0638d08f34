import type { BreakTestField } from './breakTestFields.ts';

/** Why a row cannot be taken: thrown within the room, told by {@link readBreakTests} as one of the refused. */
export class Refusal extends Error {
  readonly field: BreakTestField;
  readonly hint: string;

  constructor(field: BreakTestField, reason: string, hint: string) {
    super(reason);
    this.field = field;
    this.hint = hint;
  }
}
