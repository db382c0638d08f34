/**
 * Brings 20,000 generated results under another calibration, as the calibration place does, and prints time and memory.
 * Wanted: under 20 s. Beside it, as a reference in the same run: reading and parsing the same results and doing
 * nothing with them.
 * Run: node bench/recompute.ts [results]
 */
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { assessVisit } from '../core/assess.ts';
import type { Assessment } from '../core/assessment.ts';
import type { VisitFile } from '../core/recording/index.ts';
import {
  calibrationFromDocument,
  fitRelation,
  publishCalibration,
  readBreakTests,
} from '../core/strength/index.ts';
import type { KeptCalibration } from '../core/workspace/calibration/calibrations.repository.ts';
import { recomputeStrength } from '../core/workspace/calibration/recomputeStrength.ts';
import { openStore } from '../core/workspace/index.ts';
import { summarise } from '../core/workspace/summarise.ts';
import { makeBreakTests } from '../samples/breakTests.ts';
import { readSampleVisit } from './readSampleVisit.ts';

const results = Number(process.argv[2] ?? 20_000);
const WANTED_S = 20;
const BYTES_PER_MB = 1e6;
/** Of the series' stem modulus (samples/breakTests.ts). */
const MODULUS_LOG_SD = 0.05;
const NO_SHA256 = '0'.repeat(64);

const folder = mkdtempSync(join(tmpdir(), 'stemroot-recompute-'));
try {
  const path = join(folder, 'many.stemroot');
  await openStore(path, { create: true }).close();
  fill(path);
  const store = openStore(path);
  const readS = await timeReading(path);
  const started = process.cpuUsage();
  const startedMs = performance.now();
  let mostBytes = 0;
  const outcome = await recomputeStrength(store, fitSeries(), {
    askedBy: 'bench',
    onProgress: () => {
      mostBytes = Math.max(mostBytes, process.memoryUsage().rss);
    },
  });
  const used = process.cpuUsage(started);
  const cpuS = (used.user + used.system) / 1e6;
  const recomputed = outcome.state === 'completed' ? outcome.recomputed : 0;
  await store.close();
  console.log(`results recomputed        ${recomputed} of ${results}`);
  console.log(`processor time            ${cpuS.toFixed(1)} s (wanted: under ${WANTED_S} s)`);
  console.log(`time on the clock         ${((performance.now() - startedMs) / 1000).toFixed(1)} s`);
  console.log(`reading and parsing alone ${readS.toFixed(1)} s`);
  console.log(`greatest memory           ${(mostBytes / BYTES_PER_MB).toFixed(0)} MB`);
  console.log(`file                      ${(statSync(path).size / BYTES_PER_MB).toFixed(0)} MB`);
  if (recomputed !== results) process.exitCode = 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}

/** A relation fitted to the invented series: from the modulus, its error acknowledged, and species drawn together. */
function fitSeries(): KeptCalibration {
  const { rows } = readBreakTests(Buffer.from(makeBreakTests()), 'break-tests.csv');
  const withErrors = rows.map((row) => ({ ...row, modulusLogSd: MODULUS_LOG_SD }));
  const fit = fitRelation(withErrors, {
    response: 'groundlineStress',
    form: 'log-linear',
    predictors: ['modulus'],
    species: 'pooled',
    treatment: 'none',
    estimator: 'ordinary',
    modulusError: 'acknowledged',
  });
  const document = publishCalibration(fit, {
    name: 'bench',
    number: 1,
    author: 'bench',
    note: '',
    publishedAt: new Date().toISOString(),
  });
  const calibration = calibrationFromDocument(document);
  return { calibrationId: null, label: 'bench@1', sha256: null, document, calibration };
}

/** Writes results of poles that differ in stiffness, past the program: what is timed is reading them. */
function fill(path: string): void {
  const input = readSampleVisit('KV-0101');
  const { assessment } = assessVisit(input);
  const database = new Database(path);
  database.pragma('synchronous = OFF');
  const insertPole = database.prepare('INSERT INTO poles (code, first_seen_at) VALUES (?, ?)');
  const insertVisit = database.prepare(
    `INSERT INTO visits (pole_id, file_name, measured_on, file_bytes, file_sha256, contents_sha256, imported_at)
     VALUES (?, ?, ?, ?, ?, ?, ?)`,
  );
  const insertResult = database.prepare(
    `INSERT INTO assessments (visit_id, created_at, program, verdict, decisions_json, settings_json, inputs_json,
       inputs_sha256, result_json, summary_json) VALUES (?, ?, 'bench', ?, '[]', '{}', '{}', ?, ?, ?)`,
  );
  const now = new Date().toISOString();
  database.transaction(() => {
    for (let i = 0; i < results; i++) {
      const id = `BP-${String(i).padStart(6, '0')}`;
      const visit = { ...input.visit, pole: { ...input.visit.pole, id } };
      const result = varyStem(assessment, visit, i);
      const pole = insertPole.run(id, now).lastInsertRowid;
      const added = insertVisit.run(
        pole,
        `${id}.visit.json`,
        visit.measured.date,
        Buffer.from(JSON.stringify(visit)),
        NO_SHA256,
        i.toString(16).padStart(64, '0'),
        now,
      ).lastInsertRowid;
      insertResult.run(
        added,
        now,
        result.verdict,
        NO_SHA256,
        JSON.stringify(result),
        JSON.stringify(summarise(result)),
      );
    }
  })();
  database.close();
}

/** The same result with another stem: 70 to 130 % of its stiffness. */
function varyStem(assessment: Assessment, { pole }: VisitFile, i: number): Assessment {
  const factor = 0.7 + 0.6 * ((i * 0.618_033_988_75) % 1);
  const { stem } = assessment;
  if (!stem?.lnModulus) throw new Error('The sample pole has no stem.');
  const { value, low, high, level } = stem.modulusPa;
  return {
    ...assessment,
    poleId: pole.id,
    stem: {
      ...stem,
      modulusPa: { value: value * factor, low: low * factor, high: high * factor, level },
      lnModulus: { ...stem.lnModulus, mean: stem.lnModulus.mean + Math.log(factor) },
    },
  };
}

async function timeReading(path: string): Promise<number> {
  const database = new Database(path, { readonly: true });
  const started = process.cpuUsage();
  let read = 0;
  const rows = database
    .prepare('SELECT result_json, file_bytes FROM assessments JOIN visits USING (visit_id)')
    .iterate() as Iterable<{ result_json: string; file_bytes: Buffer }>;
  for (const { result_json, file_bytes } of rows) {
    read += Object.keys(JSON.parse(result_json)).length + Object.keys(JSON.parse(String(file_bytes))).length;
  }
  const used = process.cpuUsage(started);
  database.close();
  if (read === 0) throw new Error('Nothing was read.');
  return (used.user + used.system) / 1e6;
}
