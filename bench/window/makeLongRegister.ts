import { createHash } from 'node:crypto';
import Database from 'better-sqlite3';
import { openStore } from '../../core/workspace/index.ts';
import { visit as wholeVisit } from '../../tests/report/fixture.ts';

/** Findings as they come: one that nearly every pole has, and rarer ones. */
const FINDINGS = ['soft-root', 'one-sided', 'faulty-strikes', 'rival-assignment', 'misfit'] as const;
const SPECIES = ['southern-pine', 'douglas-fir', 'western-redcedar'] as const;
const FAULTS = ['clipping', 'double-blow', 'cut-short', 'rattle'] as const;

/**
 * Fills a workspace with invented visits and summaries, without recordings or results: all that a register reads.
 * @param path - of a file that is not there yet
 */
export async function makeLongRegister(path: string, visits: number): Promise<void> {
  await openStore(path, { create: true }).close();
  const database = new Database(path);
  const addPole = database.prepare(`INSERT INTO poles (code, first_seen_at) VALUES (?, '2026-05-03')`);
  const addVisit = database.prepare(
    `INSERT INTO visits (pole_id, file_name, measured_on, file_bytes, file_sha256, contents_sha256, imported_at)
     VALUES (?, ?, ?, ?, ?, ?, '2026-05-03')`,
  );
  const addResult = database.prepare(
    `INSERT INTO assessments (visit_id, created_at, program, verdict, decisions_json, settings_json, inputs_json,
       inputs_sha256, result_json, summary_json)
     VALUES (?, '2026-05-03', 'bench', ?, '[]', '{}', '{}', ?, '{}', ?)`,
  );
  database.transaction(() => {
    for (let i = 0; i < visits; i++) {
      const code = `LR-${String(i).padStart(6, '0')}`;
      const { lastInsertRowid: pole } = addPole.run(code);
      const species = SPECIES[i % SPECIES.length]!;
      const file = Buffer.from(
        JSON.stringify({ ...wholeVisit, pole: { ...wholeVisit.pole, id: code, species } }),
      );
      const sha256 = createHash('sha256').update(file).digest('hex');
      const date = `20${String(10 + (i % 17)).padStart(2, '0')}-0${1 + (i % 9)}-1${i % 10}`;
      const { lastInsertRowid: visit } = addVisit.run(pole, `${code}.visit.json`, date, file, sha256, sha256);
      const summary = inventSummary(i);
      addResult.run(visit, summary.verdict, sha256, JSON.stringify(summary));
    }
  })();
  database.close();
}

/** A summary spread over what there is by a fixed pattern: the same for the same place. */
function inventSummary(i: number) {
  const share = (step: number) => ((i * step) % 1009) / 1009;
  const verdict = i % 23 === 0 ? 'withheld' : 'assessed';
  const capacityNm = verdict === 'withheld' ? null : 50e3 + 90e3 * share(37);
  const modulusPa = 7e9 + 7e9 * share(53);
  const fixity = 2 + 12 * share(71);
  const spread = (value: number) => ({ value, low: value * 0.8, high: value * 1.25 });
  const found = 4;
  return {
    verdict,
    frequenciesHz: [1 + share(11), 6 + 3 * share(13), 17 + 8 * share(17)],
    modulusPa,
    fixity,
    identifiability: i % 7 === 0 ? 'one-sided' : 'separated',
    capacityNm: capacityNm && spread(capacityNm),
    lower5PercentNm: capacityNm && 0.75 * capacityNm,
    calibration: capacityNm && 'handbook@1',
    program: 'stemroot',
    requirementNm: 75e3,
    chanceBelow: capacityNm && share(29),
    thresholdNm: 50e3,
    chanceBelowThreshold: capacityNm && share(29) / 4,
    strikes: {
      found,
      usable: found - (i % 11 === 0 ? 1 : 0),
      faults: i % 11 === 0 ? [FAULTS[i % FAULTS.length]!] : [],
    },
    findings: [
      { id: 'section-not-inspected', text: 'The section at ground line was not inspected. '.repeat(4) },
      ...(i % 3 === 0
        ? [{ id: FINDINGS[i % FINDINGS.length]!, text: 'Softer than its soil and depth explain. '.repeat(4) }]
        : []),
    ],
    modulusIntervalPa: spread(modulusPa),
    fixityInterval: spread(fixity),
  };
}
