import type { CallResponse } from '../../../core/workspace/index.ts';
import { print } from '../print.ts';

/** Prints what a relation is and what speaks against it, before it is published or put to use. */
export function printAppraisal({ lines, weaknesses }: CallResponse<'calibration.appraise'>): void {
  const width = Math.max(...lines.map(({ name }) => name.length));
  for (const { name, text } of lines) print(`${name.padEnd(width)}  ${text}`);
  if (weaknesses.length > 0) print('Weaknesses:');
  for (const { text } of weaknesses) print(`  - ${text}`);
}
