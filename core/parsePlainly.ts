import type { z } from 'zod';
import { sayIssue } from './sayIssue.ts';

export type Parsed<T> =
  | { readonly success: true; readonly data: T }
  | {
      readonly success: false;
      /** Where in the value, for instance `recordings[0].file`. */
      readonly field: string;
      /** What was expected there and what was received, in plain words without a full stop. */
      readonly words: string;
    };

/** The longest value that is repeated in full. */
const MOST_RECEIVED_CHARACTERS = 60;

/** Checks what a person or a file gave against a schema, and tells the first field that is wrong in plain words. */
export function parsePlainly<S extends z.ZodType>(schema: S, raw: unknown): Parsed<z.output<S>> {
  const result = schema.safeParse(raw, { error: sayIssue });
  if (result.success) return result;
  const { code, path, message } = findFirstIssue(result.error.issues[0]!);
  const received = describeValue(path.reduce<unknown>(stepInto, raw));
  const words = code === 'unrecognized_keys' ? message : `${message}; received ${received}`;
  return { success: false, field: formatPath(path), words };
}

/** Of a field that may have one of several forms: the first issue of the form that the value comes nearest to. */
function findFirstIssue(issue: z.core.$ZodIssue): z.core.$ZodIssue {
  if (issue.code !== 'invalid_union' || issue.errors.length === 0) return issue;
  const misfit = (issues: readonly z.core.$ZodIssue[]) =>
    issues.filter(({ path }) => path.length <= 1).length;
  const nearest = issue.errors.reduce((best, other) => (misfit(other) < misfit(best) ? other : best));
  const inner = findFirstIssue(nearest[0]!);
  return { ...inner, path: [...issue.path, ...inner.path] };
}

function formatPath(path: readonly PropertyKey[]): string {
  return (
    path
      .map((key, i) => (typeof key === 'number' ? `[${key}]` : `${i > 0 ? '.' : ''}${String(key)}`))
      .join('') || '(top)'
  );
}

function stepInto(value: unknown, key: PropertyKey): unknown {
  return typeof value === 'object' && value !== null
    ? (value as Record<PropertyKey, unknown>)[key]
    : undefined;
}

function describeValue(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (Array.isArray(value)) return value.length === 0 ? 'an empty list' : `a list of ${value.length}`;
  if (typeof value === 'object' && value !== null) return 'a group of fields';
  const text = typeof value === 'string' ? JSON.stringify(value) : String(value);
  return text.length > MOST_RECEIVED_CHARACTERS ? `${text.slice(0, MOST_RECEIVED_CHARACTERS - 3)}...` : text;
}
