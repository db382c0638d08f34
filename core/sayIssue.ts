import type { z } from 'zod';

const TYPE_WORDS: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'a group of fields',
  record: 'a group of fields',
  null: 'null',
};

const FORMAT_WORDS: Readonly<Record<string, string>> = {
  date: 'a date as 2026-05-03',
  datetime: 'a date and time as 2026-05-03T08:00:00Z',
  base64: 'base64',
};

/** What a schema expected of a value, in plain words: takes the place of the validator's own. */
export function sayIssue(issue: z.core.$ZodRawIssue): string | undefined {
  if (issue.code === 'unrecognized_keys') {
    const names = issue.keys.map((key) => `"${key}"`).join(', ');
    return issue.keys.length === 1 ? `${names} is not known here` : `${names} are not known here`;
  }
  if (issue.code === 'invalid_union') return 'none of the forms that are known here fits';
  const expected = describeExpected(issue);
  return expected === null ? undefined : `${expected} is expected`;
}

function describeExpected(issue: z.core.$ZodRawIssue): string | null {
  switch (issue.code) {
    case 'invalid_type':
      return TYPE_WORDS[issue.expected] ?? 'a value of another kind';
    case 'too_small':
      return describeSize(issue.origin, issue.inclusive === false ? 'more than' : 'at least', issue.minimum);
    case 'too_big':
      return describeSize(issue.origin, issue.inclusive === false ? 'less than' : 'at most', issue.maximum);
    case 'not_multiple_of':
      return `a multiple of ${issue.divisor}`;
    case 'invalid_value':
      return listValues(issue.values);
    case 'invalid_format':
      return FORMAT_WORDS[issue.format] ?? 'a text of another form';
    default:
      return null;
  }
}

function describeSize(origin: string, bound: string, size: number | bigint): string {
  if (origin === 'string') {
    return bound === 'at least' && size === 1
      ? 'a text that is not empty'
      : `a text of ${bound} ${size} characters`;
  }
  if (origin === 'array' || origin === 'set') return `a list of ${bound} ${size}`;
  if (origin === 'int') return `a whole number of ${bound} ${size}`;
  return `a number of ${bound} ${size}`;
}

function listValues(values: readonly unknown[]): string {
  const list = values.map((value) => JSON.stringify(value)).join(', ');
  return values.length === 1 ? list : `one of ${list}`;
}
