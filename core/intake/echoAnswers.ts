import type { Answers, Entry } from './answers.ts';
import { FIELDS, type Field } from './fields.ts';
import { readValue } from './readEntry.ts';
import { fromSi, QUANTITIES, UNITS, type UnitSystem } from './units.ts';

/** What an answer says in other units: `10.668 m`. */
export type Echo = { readonly field: string; readonly words: string };

const SHOWN_DIGITS = 5;

/**
 * Tells, of every answer in a unit that is not SI, the value that the visit file will hold; and of a metric one, the value in US
 * customary units where these are asked for.
 */
export function echoAnswers(answers: Answers, units: UnitSystem): Echo[] {
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
      const words = echo((row as Record<string, Entry>)[key]!, field, units);
      return words === null ? [] : [{ field: `${path}.${key}`, words }];
    }),
  );
}

function echo(entry: Entry, field: Field, units: UnitSystem): string | null {
  if (field.kind !== 'quantity' || entry.unit === null) return null;
  const { value } = readValue(entry, field);
  if (value === null) return null;
  const { us } = QUANTITIES[field.quantity];
  const shown = [SI_UNITS[field.quantity], ...(units === 'us' ? [us] : [])]
    .filter((id) => id !== entry.unit)
    .map((id) => `${Number(fromSi(value, id).toPrecision(SHOWN_DIGITS))} ${UNITS[id].symbol}`);
  return shown.length === 0 ? null : shown.join(', ');
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
