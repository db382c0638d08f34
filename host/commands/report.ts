import { InputError } from '../../core/errors.ts';
import { readRecordings } from '../../core/readRecordings.ts';
import { renderReport } from '../../core/report/index.ts';
import { handbookCalibration } from '../../core/strength/index.ts';
import { gatherReport } from '../../core/workspace/index.ts';
import { assessFile } from '../assessFile.ts';
import { VISIT_FILE_ENDING } from '../visitFiles.ts';
import { writeOutput } from './files.ts';
import { findVisitOfPole, withWorkspace } from './register.ts';

const REPORT_ENDING = /\.html?$/i;

/**
 * Writes the report of a visit file, assessed now, or of the latest visit of a pole in a workspace, as stored.
 * @param pole - needed for a workspace, refused for a visit file
 */
export async function runReport(
  source: string,
  pole: string | undefined,
  { out, date }: { out: string; date?: string },
): Promise<number> {
  const isVisitFile = source.endsWith(VISIT_FILE_ENDING);
  if (isVisitFile === (pole !== undefined)) {
    throw new InputError(
      'report.source',
      isVisitFile ? `${source} is a visit file and names its own pole.` : 'No pole was named.',
      'Name a visit file (*.visit.json) alone, or a workspace and a pole.',
    );
  }
  if (!REPORT_ENDING.test(out)) {
    throw new InputError(
      'report.ending',
      `${out} does not end in .html; a report is written as HTML.`,
      'Name a file that ends in .html; the window hands reports out as PDF too, and a browser prints one.',
    );
  }
  const html = pole === undefined ? reportVisitFile(source) : await reportStored(source, pole, date);
  writeOutput(out, html);
  process.stdout.write(`Report written to ${out}\n`);
  return 0;
}

/** The report of the latest visit of a pole, or of that of a date. */
async function reportStored(workspace: string, pole: string, date: string | undefined): Promise<string> {
  return withWorkspace(workspace, async (handlers) => {
    const { visitId } = await findVisitOfPole(handlers, pole, date);
    const { base64 } = await handlers['reports.make']({ subject: { visitIds: [visitId] }, format: 'html' });
    return Buffer.from(base64, 'base64').toString('utf8');
  });
}

function reportVisitFile(path: string): string {
  const { input, result, picture } = assessFile(path);
  if (!input || ('error' in result && result.error.code === 'internal')) {
    const { code, message, hint } = (result as Extract<typeof result, { verdict: 'failed' }>).error;
    throw new InputError(code, message, hint);
  }
  const { visit } = input;
  const subject = {
    visit,
    result,
    picture,
    decisions: [],
    rulings: [],
    calibration: handbookCalibration,
    recordings: 'error' in result ? [] : readRecordings(input),
  };
  return renderReport(gatherReport(subject, new Date().toISOString()));
}
