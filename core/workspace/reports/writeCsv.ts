import Papa from 'papaparse';
import { CAUTIONS } from '../../cautions.ts';
import { keepFromFormulas } from '../../keepFromFormulas.ts';
import type { RegisterRow } from '../contract.ts';

type Cell = string | number | null;
type Column = { readonly title: string; readonly cell: (row: RegisterRow) => Cell };

/** Units stand in the titles and are SI, as in the results themselves. */
const COLUMNS: readonly Column[] = [
  { title: 'pole', cell: (row) => row.poleId },
  { title: 'visit_date', cell: (row) => row.date },
  { title: 'species', cell: (row) => row.species },
  { title: 'class', cell: (row) => row.classCode },
  { title: 'length_m', cell: (row) => row.lengthM },
  { title: 'standing', cell: (row) => row.standing },
  { title: 'verdict', cell: (row) => row.verdict },
  { title: 'f1_hz', cell: (row) => row.frequenciesHz[0] ?? null },
  { title: 'f2_hz', cell: (row) => row.frequenciesHz[1] ?? null },
  { title: 'f3_hz', cell: (row) => row.frequenciesHz[2] ?? null },
  { title: 'stem_modulus_pa', cell: (row) => row.modulusPa },
  { title: 'fixity', cell: (row) => row.fixity },
  { title: 'stem_and_root', cell: (row) => row.identifiability },
  { title: 'capacity_if_sound_nm', cell: (row) => row.capacityNm?.value ?? null },
  { title: 'capacity_low_nm', cell: (row) => row.capacityNm?.low ?? null },
  { title: 'capacity_high_nm', cell: (row) => row.capacityNm?.high ?? null },
  { title: 'requirement_nm', cell: (row) => row.requirementNm },
  { title: 'chance_below_requirement', cell: (row) => row.chanceBelow },
  { title: 'threshold_nm', cell: (row) => row.thresholdNm },
  { title: 'chance_below_threshold', cell: (row) => row.chanceBelowThreshold },
  { title: 'strikes', cell: (row) => row.strikes.found },
  { title: 'strikes_usable', cell: (row) => row.strikes.usable },
  { title: 'strike_faults', cell: (row) => row.strikes.faults.join('; ') },
  { title: 'findings', cell: (row) => row.findings.map(({ text }) => text).join(' ') },
  { title: 'look_because', cell: (row) => row.need.reasons.map(({ words }) => words).join('; ') },
  { title: 'ruling', cell: (row) => row.ruling?.decision ?? null },
  { title: 'ruled_by', cell: (row) => row.ruling?.analyst ?? null },
  { title: 'ruled_at', cell: (row) => row.ruling?.decidedAt ?? null },
  { title: 'ruling_reason', cell: (row) => row.ruling?.reason ?? null },
  { title: 'second_signature', cell: (row) => row.ruling?.signed?.person ?? null },
  { title: 'assessment', cell: (row) => row.assessmentId },
  { title: 'caution', cell: () => CAUTIONS[0]! },
];

/** Rows of the register as CSV (RFC 4180): one heading, one line a visit, no text that runs as a formula. */
export function writeCsv(rows: readonly RegisterRow[]): string {
  return Papa.unparse({
    fields: COLUMNS.map(({ title }) => title),
    data: rows.map((row) => COLUMNS.map(({ cell }) => keepFromFormulas(cell(row)))),
  });
}
