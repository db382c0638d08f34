import type { Answers, Entry } from './answers.ts';
import { FIELDS, type Field } from './fields.ts';
import { readValue } from './readEntry.ts';
import { type QUANTITIES, UNITS } from './units.ts';

/** What will be written for an answer that was given in another unit: `10.668 m`. */
export type Echo = { readonly field: string; readonly words: string };

const SHOWN_DIGITS = 5;

/** Tells, of every answer in a unit that is not SI, the value that the visit file will hold. */
export function echoAnswers(answers: Answers): Echo[] {
  const rows: [string, Record<string, Field>, object][] = [
    ['pole', FIELDS.pole, answers.pole],
    ['measured', FIELDS.measured, answers.measured],
    ...(['circumferences', 'cables', 'attachments'] as const).flatMap((group) =>
      answers[group].map((row, i): [string, Record<string, Field>, object] => [
        `${group}.${i}`,
        FIELDS[group],
        row,
      ]),
    ),
    ...answers.recordings.flatMap((recording, r) => [
      [`recordings.${r}`, FIELDS.recordings, recording] as [string, Record<string, Field>, object],
      ...recording.channels.map((channel, c): [string, Record<string, Field>, object] => [
        `recordings.${r}.channels.${c}`,
        FIELDS.channels,
        channel,
      ]),
    ]),
  ];
  return rows.flatMap(([path, fields, row]) =>
    Object.entries(fields).flatMap(([key, field]) => {
      const words = echo((row as Record<string, Entry>)[key]!, field);
      return words === null ? [] : [{ field: `${path}.${key}`, words }];
    }),
  );
}

function echo(entry: Entry, field: Field): string | null {
  if (field.kind !== 'quantity' || entry.unit === null) return null;
  const { factor, offset } = UNITS[entry.unit];
  if (factor === 1 && offset === 0) return null;
  const { value } = readValue(entry, field);
  if (value === null) return null;
  return `${Number(value.toPrecision(SHOWN_DIGITS))} ${UNITS[SI_UNITS[field.quantity]].symbol}`;
}

/** The unit of the visit file for each quantity. */
const SI_UNITS = {
  length: 'm',
  girth: 'm',
  mass: 'kg',
  temperature: 'degC',
  density: 'kgPerM3',
  acceleration: 'mPerS2',
  stiffness: 'nPerM',
} as const satisfies Record<keyof typeof QUANTITIES, keyof typeof UNITS>;
