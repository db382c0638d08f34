import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { CAUTIONS } from '../core/cautions.ts';
import { type Desk, openDesk, type RegisterRow } from '../core/workspace/index.ts';
import { makeSamples } from '../samples/make.ts';
import { bringIn } from './bringIn.ts';
import { formatCautions } from './formatResult.ts';
import { formatTable } from './formatTable.ts';
import { findVisitFiles } from './visitFiles.ts';

const FOLDER = fileURLToPath(new URL('../demo/', import.meta.url));

export const DEMO_WORKSPACE = `${FOLDER}demo.stemroot`;

/** Makes the samples, imports and assesses them in a fresh workspace, and prints what came out. */
export async function makeDemo(): Promise<void> {
  say('Making the samples: an invented place with invented poles.');
  makeSamples(`${FOLDER}samples`);
  for (const ending of ['', '-wal', '-shm']) rmSync(`${DEMO_WORKSPACE}${ending}`, { force: true });
  mkdirSync(FOLDER, { recursive: true });
  const all = await bringIn(DEMO_WORKSPACE, findVisitFiles([`${FOLDER}samples/visits`]), { assess: true });
  const desk = await openDesk(DEMO_WORKSPACE);
  try {
    const { rows } = await desk.ask('register.list', {});
    say(`\n${formatTable(rows)}\n`);
    for (const { outcome } of all)
      if (outcome.error) say(`${outcome.file} was not imported: ${outcome.error.message}`);
    say(`${formatCautions(CAUTIONS)}\n`);
    say(`Report of one pole: ${relative(process.cwd(), await writeReport(desk, rows))}`);
    say(`Workspace: ${relative(process.cwd(), DEMO_WORKSPACE)} (all of it is invented)`);
    say('Open the window on it with: npm start');
  } finally {
    await desk.close();
  }
}

/** Writes the report of the first pole that has a result. @returns its path */
async function writeReport(desk: Desk, rows: readonly RegisterRow[]): Promise<string> {
  const shown = rows.find((row) => row.verdict === 'assessed') ?? rows[0]!;
  const { fileName, base64 } = await desk.ask('reports.make', {
    subject: { visitIds: [shown.visitId] },
    format: 'html',
  });
  writeFileSync(`${FOLDER}${fileName}`, Buffer.from(base64, 'base64'));
  return `${FOLDER}${fileName}`;
}

function say(text: string): void {
  process.stdout.write(`${text}\n`);
}

if (import.meta.main) await makeDemo();
