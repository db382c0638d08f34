import { z } from 'zod';

/** Schema of text of one line: control characters are kept out of terminals and files. */
export function lineOfText(longest: number) {
  return z
    .string()
    .max(longest)
    .regex(/^\P{Cc}*$/u, 'control characters are not allowed');
}
