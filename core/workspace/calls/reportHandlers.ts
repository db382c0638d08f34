import { InputError } from '../../errors.ts';
import { type ReportInput, renderReports } from '../../report/index.ts';
import { findLatestAssessment } from '../assessments.repository.ts';
import { findCalibrationByLabel } from '../calibration/calibrations.repository.ts';
import type { reportCalls } from '../contract/reportCalls.ts';
import type { CallRequest, CallResponse, RegisterRow } from '../contract.ts';
import { placeRows, writeCsv, writeGeoJson, writeParquet } from '../exports/index.ts';
import type { HandlersOf } from '../handlers.ts';
import type { RecordingReader } from '../recordingReader.ts';
import type { Register } from '../register/openRegister.ts';
import { readCompared } from '../register/readCompared.ts';
import { gatherReport } from '../reports/gatherReport.ts';
import { listRulingsOfVisit } from '../rulings.repository.ts';
import type { Store } from '../store.ts';
import { findWriter } from '../trail/index.ts';
import { getVisit } from '../visits.repository.ts';

type Made = CallResponse<'reports.make'>;
type Written = { readonly bytes: Buffer; readonly leftOut: Made['leftOut'] };
type Format = CallRequest<'reports.make'>['format'];

/** A printed file of more visits than this is one that nobody turns the pages of, and that no browser opens. */
const MOST_PRINTED = 200;

const MEDIA_TYPES = {
  html: 'text/html',
  csv: 'text/csv',
  // as registered with IANA
  parquet: 'application/vnd.apache.parquet',
  geojson: 'application/geo+json',
  json: 'application/json',
} as const;

export function createReportHandlers(
  { db }: Store,
  reader: RecordingReader,
  register: Register,
): HandlersOf<typeof reportCalls> {
  async function printVisit({ visitId }: RegisterRow, printedAt: string): Promise<ReportInput | null> {
    const latest = await findLatestAssessment(db, visitId);
    if (!latest) return null;
    const label = 'error' in latest.result ? undefined : latest.result.strength?.calibration;
    const subject = {
      ...latest,
      calibration: label === undefined ? undefined : await findCalibrationByLabel(db, label),
      visit: (await getVisit(db, visitId)).visit,
      stored:
        latest.decisions.length > 0 ? await findWriter(db, 'assessments', latest.assessmentId) : undefined,
      compared: await readCompared(db, visitId),
      rulings: await listRulingsOfVisit(db, visitId),
      recordings: await reader.readAll(visitId),
    };
    return gatherReport(subject, printedAt);
  }

  async function print(rows: readonly RegisterRow[]): Promise<Written> {
    if (rows.length > MOST_PRINTED) {
      throw new InputError(
        'report.tooMany',
        `A printed file holds at most ${MOST_PRINTED} visits; ${rows.length} were asked for.`,
        'Choose fewer visits, or write them as CSV, Parquet or JSON.',
      );
    }
    const printedAt = new Date().toISOString();
    const inputs: ReportInput[] = [];
    const leftOut: Made['leftOut'] = [];
    for (const row of rows) {
      const input = await printVisit(row, printedAt);
      if (input) inputs.push(input);
      else leftOut.push({ poleId: row.poleId, date: row.date, reason: 'not assessed' });
    }
    if (inputs.length === 0) {
      throw new InputError(
        'report.notAssessed',
        rows.length === 1
          ? `The visit to pole ${rows[0]!.poleId} of ${rows[0]!.date} is not assessed, so there is no report yet.`
          : `None of the ${rows.length} visits is assessed, so there is no report yet.`,
        'Assess the visits first.',
      );
    }
    return { bytes: Buffer.from(renderReports(inputs)), leftOut };
  }

  async function writeJson(rows: readonly RegisterRow[]): Promise<Buffer> {
    const visits = [];
    for (const row of rows) {
      const latest = await findLatestAssessment(db, row.visitId);
      visits.push({
        poleId: row.poleId,
        date: row.date,
        standing: row.standing,
        need: row.need,
        findings: row.findings,
        decisions: latest?.decisions ?? [],
        result: latest?.result ?? null,
        rulings: await listRulingsOfVisit(db, row.visitId),
      });
    }
    return Buffer.from(`${JSON.stringify({ format: 'stemroot-results', version: 1, visits }, null, 1)}\n`);
  }

  async function write(rows: readonly RegisterRow[], format: Exclude<Format, 'pdf'>): Promise<Written> {
    if (format === 'html') return print(rows);
    if (format === 'json') return { bytes: await writeJson(rows), leftOut: [] };
    if (format === 'geojson') {
      const bytes = await join(writeGeoJson(placeRows(db, rows)));
      return { bytes, leftOut: rows.filter(({ standing }) => standing !== 'latest').map(tellReplaced) };
    }
    const writeRows = format === 'csv' ? writeCsv : writeParquet;
    return { bytes: await join(writeRows([rows.map((row) => ({ row }))])), leftOut: [] };
  }

  return {
    'reports.make': async ({ subject, format }) => {
      const rows = await ('query' in subject
        ? register.listAll(subject.query)
        : register.list(subject.visitIds));
      if (rows.length === 0) {
        throw new InputError(
          'report.noVisits',
          'No visit is in this selection.',
          'Choose at least one visit.',
        );
      }
      if (format === 'pdf') throw noPrinter();
      const { bytes, leftOut } = await write(rows, format);
      return {
        fileName: nameFile(rows, format),
        mediaType: MEDIA_TYPES[format],
        base64: bytes.toString('base64'),
        visits: rows.length - leftOut.length,
        leftOut,
      };
    },
  };
}

async function join(parts: AsyncIterable<Buffer>): Promise<Buffer> {
  const all: Buffer[] = [];
  for await (const part of parts) all.push(part);
  return Buffer.concat(all);
}

function tellReplaced({ poleId, date }: RegisterRow): Made['leftOut'][number] {
  return { poleId, date, reason: 'a later visit or file tells of this pole' };
}

/** A door that can print takes the call before it comes here; see the desk. */
function noPrinter(): InputError {
  return new InputError(
    'report.noPrinter',
    'No browser was found that could write PDF.',
    'Write the report as HTML, open it, and print it to PDF from there; or name a Chromium in STEMROOT_BROWSER.',
  );
}

/** A name that every file system takes. */
function nameFile(rows: readonly RegisterRow[], format: Format): string {
  const [first] = rows;
  const subject =
    rows.length === 1
      ? `${first!.poleId.replaceAll(/[^A-Za-z0-9_-]+/g, '-')}-${first!.date}`
      : `${rows.length}-visits`;
  return `report-${subject}.${format}`;
}
