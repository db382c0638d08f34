/**
 * Exports read back by programs that are not ours: Parquet and CSV by DuckDB, Parquet by hyparquet too, CSV by Papa Parse; GeoJSON
 * against the rules of RFC 7946.
 */
import { existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import { asyncBufferFromFile, parquetMetadataAsync, parquetReadObjects } from 'hyparquet';
import Papa from 'papaparse';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { CAUTIONS } from '../../../core/cautions.ts';
import { RESULT_COLUMNS } from '../../../core/workspace/exports/index.ts';
import {
  callService,
  createWorkspaceService,
  importVisit,
  openWorkspace,
} from '../../../core/workspace/index.ts';
import { runCommand } from '../../host/runCommand.ts';
import { FAILING_POLE } from '../fakeChain.ts';
import { makeCsv, makeFolder, makePlace, makeSource, makeVisitFile } from '../visitFixture.ts';

vi.mock('../../../core/assess.ts', async () => (await import('../fakeChain.ts')).fakeChain);

let folder: string;
let workspace: string;

/** Two visits to TV-1, the later one without coordinates; one that fails; one that is not assessed, of a name that is a formula. */
beforeEach(async () => {
  folder = makeFolder();
  workspace = await makePlace();
  const store = await openWorkspace(workspace);
  const handlers = createWorkspaceService(store);
  const visits = [
    { poleId: 'TV-1', date: '2025-05-03', place: { latitude: 61.5, longitude: -149.25 } },
    { poleId: FAILING_POLE, date: '2026-05-03', place: { latitude: -33, longitude: 151.000000001 } },
    { poleId: '=1+1', date: '2026-05-03', place: {} },
    { poleId: 'TV-1', date: '2026-05-03', place: {} },
  ];
  for (const [i, { poleId, date, place }] of visits.entries()) {
    const visit = makeVisitFile(poleId, { date, files: ['x.csv'] });
    const { latitude: _, longitude: __, ...pole } = visit.pole;
    const source = makeSource({ ...visit, pole: { ...pole, ...place } }, { 'x.csv': makeCsv(i) });
    const { visitId } = await importVisit(store, source);
    if (poleId !== '=1+1') await callService(handlers, 'visit.assess', { visitId, decisions: [] });
  }
  const ruling = { visitId: 4, assessmentId: 3, analyst: 'A. Nyl', decision: 'keep', reason: '=1 "x", y' };
  await callService(handlers, 'visit.rule', ruling);
  await store.close();
});

async function exportTo(name: string): Promise<{ path: string; out: string }> {
  const path = join(folder, name);
  const { code, out, error } = await runCommand('export', workspace, '--out', path, '--json');
  expect([code, error]).toEqual([0, 'Exporting visits: 4\n']);
  return { path, out };
}

const EXPECTED = [
  ['TV-1', '2025-05-03', 'earlier', 'assessed', null],
  ['TV-1', '2026-05-03', 'latest', 'assessed', 'keep'],
  [FAILING_POLE, '2026-05-03', 'latest', 'failed', null],
  ['=1+1', '2026-05-03', 'latest', 'not assessed', null],
];
const shown = (row: Record<string, unknown>) => [
  row.pole,
  row.visit_date,
  row.standing,
  row.verdict,
  row.ruling,
];

describe('export to Parquet', () => {
  it('is read by another library: every visit, every column, of the kinds that the schema promises', async () => {
    const { path, out } = await exportTo('r.parquet');
    expect(JSON.parse(out)).toEqual({ file: path, visits: 4, poles: 3, polesWithoutPosition: 1 });
    const file = await asyncBufferFromFile(path);
    const rows = await parquetReadObjects({ file });
    expect(rows.map(shown)).toEqual(EXPECTED);
    expect(rows[1]).toMatchObject({
      capacity_if_sound_nm: 91.1e3,
      assessment: 3n,
      ruling_reason: '=1 "x", y',
    });
    expect(rows[3]).toMatchObject({ capacity_if_sound_nm: null, assessment: null, strikes: 0n });
    const kinds = { text: 'BYTE_ARRAY', number: 'DOUBLE', 'whole number': 'INT64' };
    const { schema } = await parquetMetadataAsync(file);
    expect(schema.slice(1).map(({ name, type, repetition_type }) => [name, type, repetition_type])).toEqual(
      RESULT_COLUMNS.map(({ title, kind }) => [title, kinds[kind], 'OPTIONAL']),
    );
  });

  it('of an empty workspace has the columns and no row', async () => {
    const empty = await makePlace();
    const path = join(folder, 'e.parquet');
    await runCommand('export', empty, '--out', path);
    const metadata = await parquetMetadataAsync(await asyncBufferFromFile(path));
    expect(metadata.num_rows).toBe(0n);
    expect(metadata.schema.length).toBe(1 + RESULT_COLUMNS.length);
  });

  it('is the same bytes from the window for the same visits in the same order', async () => {
    const { path } = await exportTo('r.parquet');
    const store = await openWorkspace(workspace);
    const handlers = createWorkspaceService(store);
    await handlers['register.list']({});
    const made = await handlers['reports.make']({ subject: { visitIds: [1, 4, 2, 3] }, format: 'parquet' });
    await store.close();
    expect(made.mediaType).toBe('application/vnd.apache.parquet');
    expect(Buffer.from(made.base64, 'base64').equals(readFileSync(path))).toBe(true);
  });
});

/** Asks DuckDB, an independent reader of both kinds of file. */
async function askDuckDb(query: string): Promise<unknown[][]> {
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  try {
    return (await connection.runAndReadAll(query)).getRows();
  } finally {
    connection.closeSync();
    instance.closeSync();
  }
}

describe('DuckDB', () => {
  it('reads the same out of Parquet and CSV, with the kinds that the page promises', async () => {
    const [parquet, csv] = [(await exportTo('r.parquet')).path, (await exportTo('r.csv')).path];
    const kinds = { text: 'VARCHAR', number: 'DOUBLE', 'whole number': 'BIGINT' };
    expect(
      await askDuckDb(`SELECT column_name, column_type FROM (DESCRIBE SELECT * FROM '${parquet}')`),
    ).toEqual(RESULT_COLUMNS.map(({ title, kind }) => [title, kinds[kind]]));
    const columns =
      "visit_date::VARCHAR, verdict, f1_hz, capacity_if_sound_nm::DOUBLE, strikes, assessment, nullif(findings, '')";
    const rowsOf = (file: string) => askDuckDb(`SELECT ${columns} FROM '${file}' ORDER BY ALL`);
    const rows = await rowsOf(parquet);
    expect(rows).toHaveLength(4);
    expect(await rowsOf(csv)).toEqual(rows);
  });
});

describe('export to CSV', () => {
  it('has a line a visit, and no text that runs as a formula', async () => {
    const { path } = await exportTo('r.csv');
    const text = readFileSync(path, 'utf8');
    const { data, errors } = Papa.parse<Record<string, string>>(text, { header: true });
    expect(errors).toEqual([]);
    expect(data.map(shown)).toEqual(
      EXPECTED.map((row) => row.map((cell) => (cell === '=1+1' ? "'=1+1" : (cell ?? '')))),
    );
    expect(data[1]!.ruling_reason).toBe(`'=1 "x", y`);
    expect(data.every((row) => row.cautions === CAUTIONS.join(' '))).toBe(true);
  });
});

describe('export to GeoJSON', () => {
  // RFC 7946: 3.2 (a Feature without a place has a null geometry), 3.1.1 and 4 (longitude first, degrees of WGS 84), 7 (no crs)
  it('has a point a pole at its last known coordinates, longitude first, and null where there are none', async () => {
    const { path } = await exportTo('r.geojson');
    const collection = JSON.parse(readFileSync(path, 'utf8'));
    expect(Object.keys(collection)).toEqual(['type', 'features']);
    expect(collection.type).toBe('FeatureCollection');
    const features = collection.features as {
      type: string;
      geometry: unknown;
      properties: Record<string, unknown>;
    }[];
    expect(features.map(({ type, geometry, properties }) => [type, properties.pole, geometry])).toEqual([
      ['Feature', 'TV-1', { type: 'Point', coordinates: [-149.25, 61.5] }],
      ['Feature', FAILING_POLE, { type: 'Point', coordinates: [151, -33] }],
      ['Feature', '=1+1', null],
    ]);
    expect(features[0]!.properties).toMatchObject({ visit_date: '2026-05-03', ruling: 'keep' });
    const { out } = await runCommand('export', workspace, '--out', path);
    expect(out).toBe(`3 poles written to ${path}; 1 of them have no coordinates and a null geometry\n`);
  });

  it('from the window names the visits that a later one replaces', async () => {
    const store = await openWorkspace(workspace);
    const handlers = createWorkspaceService(store);
    const answer = await callService(handlers, 'reports.make', {
      subject: { query: { sort: { key: 'date', descending: false } } },
      format: 'geojson',
    });
    await store.close();
    const made = (answer as { value: { base64: string } }).value;
    expect(made).toMatchObject({
      mediaType: 'application/geo+json',
      visits: 3,
      leftOut: [{ poleId: 'TV-1', date: '2025-05-03', reason: 'a later visit or file tells of this pole' }],
    });
    expect(JSON.parse(Buffer.from(made.base64, 'base64').toString()).features).toHaveLength(3);
  });
});

describe('an export that cannot be written', () => {
  it('says what endings there are', async () => {
    const { code, error } = await runCommand('export', workspace, '--out', join(folder, 'r.xlsx'));
    expect(code).toBe(1);
    expect(error).toContain('Name a file that ends in .csv, .parquet or .geojson.');
  });

  it('leaves nothing behind, nor touches what stood there', async () => {
    mkdirSync(join(folder, 'r.csv'));
    const listExports = () => readdirSync(folder).filter((name) => name.startsWith('r.'));
    const { code, error } = await runCommand('export', workspace, '--out', join(folder, 'r.csv'));
    expect(code).toBe(1);
    expect(error).toContain('r.csv cannot be written: it is a folder');
    expect(listExports()).toEqual(['r.csv']);
    const nowhere = await runCommand('export', workspace, '--out', join(folder, 'no', 'r.csv'));
    expect(nowhere.error).toContain('Name a file in a folder that is there');
  });

  it('does not make a workspace where none is', async () => {
    const absent = join(folder, 'absent.stemroot');
    const { code, error } = await runCommand('export', absent, '--out', join(folder, 'r.csv'));
    expect([code, existsSync(absent)]).toEqual([1, false]);
    expect(error).toContain('There is no workspace at');
  });
});

it('the page that describes the columns lists each of them, in order', () => {
  const page = readFileSync(new URL('../../../docs/exports.md', import.meta.url), 'utf8');
  const listed = [...page.matchAll(/^\| `(\w+)` \| ([\w ]+) \| (.+) \|$/gm)].map(([, ...cells]) => cells);
  expect(listed).toEqual(RESULT_COLUMNS.map(({ title, kind, meaning }) => [title, kind, meaning]));
});

it('a column that came later stands behind those that were there, which other programs may count', () => {
  // as read in the page of the first export: `cautions` closed it, and nothing stood between a chance and the strikes
  const titles = RESULT_COLUMNS.map(({ title }) => title);
  expect(titles.slice(-2)).toEqual(['cautions', 'chances_told']);
  expect(titles[titles.indexOf('chance_below_threshold') + 1]).toBe('strikes');
});
