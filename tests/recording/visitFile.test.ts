import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { FormatError, InputError } from '../../core/errors.ts';
import { parseVisitFile } from '../../core/recording/index.ts';
import { formatVisitSchema } from '../../core/recording/writeVisitSchema.ts';

const PLAIN = {
  format: 'stemroot-visit',
  version: 1,
  pole: { id: 'T-1', species: 'southern-pine', lengthM: 9.14 },
  measured: { date: '2026-05-03', circumferences: [{ heightM: 1.7, circumferenceM: 0.78 }] },
  recordings: [{ file: 'a.wav', channels: [{ index: 0, azimuthDeg: 0, fullScaleMPerS2: 98.1 }] }],
};

/** The plain visit with one field changed; the path is dotted. */
function change(path: string, value: unknown): string {
  const visit = structuredClone(PLAIN) as Record<string, unknown>;
  const keys = path.split('.');
  let place: Record<string, unknown> = visit;
  for (const key of keys.slice(0, -1)) place = place[key] as Record<string, unknown>;
  place[keys.at(-1)!] = value;
  return JSON.stringify(visit);
}

describe('parseVisitFile', () => {
  test('fills in what is absent', () => {
    const visit = parseVisitFile(JSON.stringify(PLAIN), 'a.visit.json');
    expect(visit.measured).toMatchObject({
      sensorHeightM: 2,
      sensorMassKg: 0,
      soil: 'unknown',
      cables: [],
      attachments: [],
    });
    expect(visit.recordings[0]!.exciter).toBe('unknown');
    expect(visit.options).toEqual({});
  });

  test.each([
    ['pole.lengthM', -1, /field pole\.lengthM: .*received -1/],
    ['pole.lengthM', '9', /field pole\.lengthM: .*received "9"/],
    ['pole.species', 'teak', /field pole\.species: .*received "teak"/],
    ['pole.setYear', 2126, /field pole\.setYear: 2126 is after the visit; expected 2026 at the latest/],
    ['pole.colour', 'brown', /colour/],
    ['measured.date', '3 May', /field measured\.date/],
    ['measured.circumferences', [], /field measured\.circumferences/],
    [
      'measured.circumferences.0.heightM',
      9.2,
      /measured\.circumferences\[0\]\.heightM: 9\.2 m is not below the tip/,
    ],
    ['measured.sensorHeightM', 12, /field measured\.sensorHeightM: 12 m is not below the tip/],
    ['recordings', [], /field recordings/],
    ['recordings.0.file', '../a.wav', /"\.\.\/a\.wav" is a path/],
    ['recordings.0.channels.0.index', 0.5, /field recordings\[0\]\.channels\[0\]\.index/],
    ['format', 'other', /field format/],
    ['version', 2, /field version: .*received 2/],
  ])('refuses %s = %j', (path, value, message) => {
    expect(() => parseVisitFile(change(path, value), 'a.visit.json')).toThrow(message);
    expect(() => parseVisitFile(change(path, value), 'a.visit.json')).toThrow(InputError);
  });

  test('refuses what is no JSON, and a file that is far too long', () => {
    expect(() => parseVisitFile('{', 'a.visit.json')).toThrow(FormatError);
    expect(() => parseVisitFile(' '.repeat(5 * 1024 * 1024), 'a.visit.json')).toThrow(
      /has 5242880 characters/,
    );
  });
});

describe('what is kept beside the schema', () => {
  const schemaText = readFileSync(new URL('../../core/recording/visit.schema.json', import.meta.url), 'utf8');

  test('visit.schema.json is what writeVisitSchema.ts writes', () => {
    expect(schemaText).toBe(formatVisitSchema());
  });

  test('docs/visit-file.md has a row for every field, with every choice', () => {
    const guide = readFileSync(new URL('../../docs/visit-file.md', import.meta.url), 'utf8');
    const fields = listFields(JSON.parse(schemaText));
    expect(fields.length).toBeGreaterThan(40);
    const rowOf = (field: string) =>
      guide.split('\n').find((line) => line.startsWith(`| \`${field}\` `)) ?? '';
    const missing = fields.filter(
      ({ name, choices }) =>
        choices.some((choice) => !rowOf(name).includes(`\`${choice}\``)) || rowOf(name) === '',
    );
    expect(missing).toEqual([]);
  });
});

interface Node {
  readonly properties?: Readonly<Record<string, Node>>;
  readonly items?: Node;
  readonly anyOf?: readonly Node[];
  readonly enum?: readonly string[];
  readonly type?: string;
}

interface Field {
  readonly name: string;
  readonly choices: readonly string[];
}

/** All fields, dotted, with [] for the members of a list, and the choices that each allows. */
function listFields(node: Node, path = ''): Field[] {
  if (node.anyOf !== undefined) {
    return node.anyOf
      .filter((option) => option.type !== 'null')
      .flatMap((option) => listFields(option, path));
  }
  if (node.items !== undefined) return listFields(node.items, `${path}[]`);
  if (node.properties === undefined) return [{ name: path, choices: node.enum ?? [] }];
  return Object.entries(node.properties).flatMap(([key, child]) =>
    listFields(child, path === '' ? key : `${path}.${key}`),
  );
}
