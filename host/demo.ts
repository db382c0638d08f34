import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { CAUTIONS } from '../core/cautions.ts';
import {
  createWorkspaceService,
  type Handlers,
  openStore,
  type RegisterRow,
} from '../core/workspace/index.ts';
import { makeSamples } from '../samples/make.ts';
import { formatCautions } from './formatResult.ts';
import { formatTable } from './formatTable.ts';
import { assessVisits, importFiles } from './importAndAssess.ts';
import { findVisitFiles } from './visitFiles.ts';

const FOLDER = fileURLToPath(new URL('../demo/', import.meta.url));

export const DEMO_WORKSPACE = `${FOLDER}demo.stemroot`;

/** Makes the samples, imports and assesses them in a fresh workspace, and prints what came out. */
export async function makeDemo(): Promise<void> {
  say('Making the samples: an invented place with invented poles.');
  makeSamples(`${FOLDER}samples`);
  for (const ending of ['', '-wal', '-shm']) rmSync(`${DEMO_WORKSPACE}${ending}`, { force: true });
  mkdirSync(FOLDER, { recursive: true });
  const store = openStore(DEMO_WORKSPACE, { create: true });
  try {
    const outcomes = await importFiles(store, findVisitFiles([`${FOLDER}samples/visits`]));
    const handlers = createWorkspaceService(store);
    const imported = outcomes.flatMap(({ visitId }) => (visitId === null ? [] : [visitId]));
    await assessVisits(handlers, imported);
    const { rows } = await handlers['register.list']({});
    say(`\n${formatTable(rows)}\n`);
    for (const { file, error } of outcomes) if (error) say(`${file} was not imported: ${error.message}`);
    say(`${formatCautions(CAUTIONS)}\n`);
    say(`Report of one pole: ${relative(process.cwd(), await writeReport(handlers, rows))}`);
    say(`Workspace: ${relative(process.cwd(), DEMO_WORKSPACE)} (all of it is invented)`);
    say('Open the window on it with: npm start');
  } finally {
    await store.close();
  }
}

/** Writes the report of the first pole that has a result. @returns its path */
async function writeReport(handlers: Handlers, rows: readonly RegisterRow[]): Promise<string> {
  const shown = rows.find((row) => row.verdict === 'assessed') ?? rows[0]!;
  const { fileName, html } = await handlers['visit.report']({ visitId: shown.visitId });
  writeFileSync(`${FOLDER}${fileName}`, html);
  return `${FOLDER}${fileName}`;
}

function say(text: string): void {
  process.stdout.write(`${text}\n`);
}

if (import.meta.main) await makeDemo();
