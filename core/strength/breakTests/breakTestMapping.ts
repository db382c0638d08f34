import { z } from 'zod';
import { FormatError } from '../../errors.ts';
import { SPECIES } from '../../recording/visitFile.ts';
import { BREAK_TEST_FIELD_NAMES, type BreakTestField, describeField } from './breakTestFields.ts';
import { findUnit } from './quantities.ts';
import { readHeader } from './readHeader.ts';

/**
 * Which column of a table holds what, in which unit; proposed by the program, changed and confirmed by a person, who may say too what
 * unknown species are and which tests are of visited poles all the same.
 */
export const breakTestMappingSchema = z.strictObject({
  decimalMark: z.enum(['.', ',']),
  columns: z
    .array(
      z.strictObject({
        header: z.string(),
        field: z.enum(BREAK_TEST_FIELD_NAMES).nullable().describe('Null: the column is passed over.'),
        unit: z.string().nullable().describe('Null: text, or the unit is still to be chosen.'),
        isCertain: z.boolean().describe('Whether the whole header was understood, not a part of it only.'),
      }),
    )
    .describe('In the order of the columns.'),
  species: z
    .record(z.string(), z.enum(SPECIES))
    .optional()
    .describe('What names of species that the program does not know stand for. Absent: other.'),
  samePole: z
    .array(z.string())
    .optional()
    .describe('Names of tests that are linked to a visit though table and visit differ.'),
});

export type BreakTestMapping = Readonly<z.infer<typeof breakTestMappingSchema>>;

/** Where a field stands, and by what its figures are multiplied to be SI. */
export type MappedColumn = { readonly index: number; readonly header: string; readonly size: number };
export type MappedColumns = ReadonlyMap<BreakTestField, MappedColumn>;

/** What a table must have, each by one of several ways. */
const NEEDED: readonly { readonly oneOf: readonly BreakTestField[]; readonly what: string }[] = [
  {
    oneOf: ['groundlineCircumferenceM', 'groundlineDiameterM', 'sectionDiameterM'],
    what: 'a girth or diameter at ground line',
  },
  {
    oneOf: ['breakLoadN', 'groundlineMomentNm', 'modulusOfRupturePa'],
    what: 'a breaking load, a moment or a modulus of rupture',
  },
];

/** Says what a mapping still lacks before the table can be read, in plain sentences; empty where it can be. */
export function listLacks({ columns }: BreakTestMapping): string[] {
  const fields = columns.map(({ field }) => field);
  const lacks = NEEDED.filter(({ oneOf }) => !oneOf.some((field) => fields.includes(field))).map(
    ({ what, oneOf }) =>
      `No column holds ${what}; choose one for: ${oneOf.map((f) => describeField(f).label).join(', or ')}.`,
  );
  columns.forEach(({ header, field, unit }, i) => {
    if (field === null) return;
    const { quantity, label } = describeField(field);
    if (fields.indexOf(field) !== i)
      lacks.push(`Column "${header}" holds ${label}, as another does; keep one of them.`);
    if (quantity === null) return;
    const { bracketed } = readHeader(header);
    if (unit === null)
      lacks.push(
        bracketed === null
          ? `Column "${header}" (${label}): its unit is not stated; choose it.`
          : `Column "${header}" (${label}): "${bracketed}" is no unit of ${quantity} that is known here; choose the one that its figures are in, or convert them.`,
      );
    else if (!findUnit(quantity, unit))
      lacks.push(`Column "${header}" (${label}): "${unit}" is no unit of ${quantity} that is known here.`);
  });
  return lacks;
}

/** A mapping with the unit in brackets of each header whose column was named by hand and still has none. */
export function takeStatedUnits(mapping: BreakTestMapping): BreakTestMapping {
  return {
    ...mapping,
    columns: mapping.columns.map((column) => {
      const { header, field, unit } = column;
      const quantity = field && describeField(field).quantity;
      const { bracketed } = readHeader(header);
      if (!quantity || unit !== null || bracketed === null) return column;
      return { ...column, unit: findUnit(quantity, bracketed)?.name ?? null };
    }),
  };
}

/**
 * Looks up where each field stands.
 * @param width - columns of the table
 * @throws FormatError `breakTests.mapping` with all that {@link listLacks} says, or where the mapping is of another table
 */
export function locateFields(mapping: BreakTestMapping, width: number, fileName: string): MappedColumns {
  const lacks = listLacks(mapping);
  if (mapping.columns.length !== width) {
    lacks.unshift(`The mapping is of ${mapping.columns.length} columns and the table has ${width}.`);
  }
  if (lacks.length > 0) {
    throw new FormatError(
      'breakTests.mapping',
      `${fileName}: ${lacks.join(' ')}`,
      'Name columns with their units, as in docs/break-tests.md, or set column and unit by hand.',
    );
  }
  return new Map(
    mapping.columns.flatMap(({ header, field, unit }, index): [BreakTestField, MappedColumn][] => {
      if (field === null) return [];
      const { quantity } = describeField(field);
      const size = quantity === null ? 1 : findUnit(quantity, unit ?? '')!.size;
      return [[field, { index, header, size }]];
    }),
  );
}
