import { CAUTIONS } from '../../cautions.ts';
import { formatChance } from '../../formatNumbers.ts';
import type { RegisterRow } from '../contract.ts';

export type Cell = string | number | null;
export type ResultColumn = {
  /** Has the unit in it. */
  readonly title: string;
  readonly kind: 'text' | 'number' | 'whole number';
  readonly meaning: string;
  readonly cell: (row: RegisterRow) => Cell;
};

/**
 * What of a visit goes to those who analyse elsewhere, the same in CSV, Parquet and GeoJSON: one row a visit. Units stand in the
 * titles and are SI, as in the results themselves. docs/exports.md lists the same, which a test holds. A new column goes to the end:
 * other programs may count columns.
 */
export const RESULT_COLUMNS: readonly ResultColumn[] = [
  {
    title: 'pole',
    kind: 'text',
    meaning: 'Name of the pole, as its visit file gives it.',
    cell: (row) => row.poleId,
  },
  {
    title: 'visit_date',
    kind: 'text',
    meaning: 'Date of the visit, YYYY-MM-DD.',
    cell: (row) => row.date,
  },
  {
    title: 'species',
    kind: 'text',
    meaning: 'Species of the pole.',
    cell: (row) => row.species,
  },
  {
    title: 'class',
    kind: 'text',
    meaning: 'Class of the pole; empty where it is not known.',
    cell: (row) => row.classCode,
  },
  {
    title: 'length_m',
    kind: 'number',
    meaning: 'Whole length of the pole, butt to top, in m.',
    cell: (row) => row.lengthM,
  },
  {
    title: 'standing',
    kind: 'text',
    meaning: 'latest; earlier: the pole was visited again; corrected: a later file tells of the same visit.',
    cell: (row) => row.standing,
  },
  {
    title: 'verdict',
    kind: 'text',
    meaning: 'assessed, withheld, failed or not assessed.',
    cell: (row) => row.verdict,
  },
  {
    title: 'f1_hz',
    kind: 'number',
    meaning: 'Mode 1, mean over the planes, in Hz.',
    cell: (row) => row.frequenciesHz[0] ?? null,
  },
  {
    title: 'f2_hz',
    kind: 'number',
    meaning: 'Mode 2, mean over the planes, in Hz.',
    cell: (row) => row.frequenciesHz[1] ?? null,
  },
  {
    title: 'f3_hz',
    kind: 'number',
    meaning: 'Mode 3, mean over the planes, in Hz.',
    cell: (row) => row.frequenciesHz[2] ?? null,
  },
  {
    title: 'stem_modulus_pa',
    kind: 'number',
    meaning: 'Modulus of elasticity of the stem, in Pa; the median.',
    cell: (row) => row.modulusPa,
  },
  {
    title: 'fixity',
    kind: 'number',
    meaning: 'Fixity of the root, k L / (E I) at ground line; the median, no unit.',
    cell: (row) => row.fixity,
  },
  {
    title: 'stem_and_root',
    kind: 'text',
    meaning: 'Whether the data tells stem from root: separated, one-sided or not separated.',
    cell: (row) => row.identifiability,
  },
  {
    title: 'capacity_if_sound_nm',
    kind: 'number',
    meaning: 'Bending capacity at ground line if the section there is sound, in N·m; the median.',
    cell: (row) => row.capacityNm?.value ?? null,
  },
  {
    title: 'capacity_low_nm',
    kind: 'number',
    meaning: 'Lower end of the interval of the capacity, in N·m.',
    cell: (row) => row.capacityNm?.low ?? null,
  },
  {
    title: 'capacity_high_nm',
    kind: 'number',
    meaning: 'Upper end of the interval of the capacity, in N·m.',
    cell: (row) => row.capacityNm?.high ?? null,
  },
  {
    title: 'capacity_lower_5_percent_nm',
    kind: 'number',
    meaning: 'Lower 5 % exclusion value: one pole in twenty like this has less, in N·m.',
    cell: (row) => row.lower5PercentNm,
  },
  {
    title: 'calibration',
    kind: 'text',
    meaning: 'Calibration that the capacity is by, name@version; empty where there is no capacity.',
    cell: (row) => row.calibration,
  },
  {
    title: 'requirement_nm',
    kind: 'number',
    meaning: 'Groundline moment that the line asks of the pole, in N·m.',
    cell: (row) => row.requirementNm,
  },
  {
    title: 'chance_below_requirement',
    kind: 'number',
    meaning: 'Chance that the capacity is below the requirement, 0 to 1.',
    cell: (row) => row.chanceBelow,
  },
  {
    title: 'threshold_nm',
    kind: 'number',
    meaning: 'The requirement times the factor of its rule in service, in N·m.',
    cell: (row) => row.thresholdNm,
  },
  {
    title: 'chance_below_threshold',
    kind: 'number',
    meaning: 'Chance that the capacity is below the threshold, 0 to 1.',
    cell: (row) => row.chanceBelowThreshold,
  },
  {
    title: 'strikes',
    kind: 'whole number',
    meaning: 'Strikes found in the recordings.',
    cell: (row) => row.strikes.found,
  },
  {
    title: 'strikes_usable',
    kind: 'whole number',
    meaning: 'Strikes that were used.',
    cell: (row) => row.strikes.usable,
  },
  {
    title: 'strike_faults',
    kind: 'text',
    meaning: 'Faults of the strikes, separated by a semicolon.',
    cell: (row) => row.strikes.faults.join('; '),
  },
  {
    title: 'findings',
    kind: 'text',
    meaning: 'What the program found, in sentences.',
    cell: (row) => row.findings.map(({ text }) => text).join(' '),
  },
  {
    title: 'look_because',
    kind: 'text',
    meaning: 'Why another look could change the outcome, separated by a semicolon, weightiest first.',
    cell: (row) => row.need.reasons.map(({ words }) => words).join('; '),
  },
  {
    title: 'ruling',
    kind: 'text',
    meaning: 'Decision of the latest ruling that stands.',
    cell: (row) => row.ruling?.decision ?? null,
  },
  {
    title: 'ruled_by',
    kind: 'text',
    meaning: 'Who ruled.',
    cell: (row) => row.ruling?.analyst ?? null,
  },
  {
    title: 'ruled_at',
    kind: 'text',
    meaning: 'When, ISO 8601 in UTC.',
    cell: (row) => row.ruling?.decidedAt ?? null,
  },
  {
    title: 'ruling_reason',
    kind: 'text',
    meaning: 'Why.',
    cell: (row) => row.ruling?.reason ?? null,
  },
  {
    title: 'second_signature',
    kind: 'text',
    meaning: 'Who signed the ruling as a second person.',
    cell: (row) => row.ruling?.signed?.person ?? null,
  },
  {
    title: 'assessment',
    kind: 'whole number',
    meaning: 'Number of the assessment in its workspace.',
    cell: (row) => row.assessmentId,
  },
  {
    title: 'program',
    kind: 'text',
    meaning: 'Program and version that made the result.',
    cell: (row) => row.program,
  },
  {
    title: 'cautions',
    kind: 'text',
    meaning: 'What holds for every row, in sentences.',
    cell: () => CAUTIONS.join(' '),
  },
  {
    title: 'chances_told',
    kind: 'text',
    meaning:
      'Both chances as far as they are known: under 1 % and over 99 % only the assumed form of the distribution speaks, so no digits beyond count.',
    cell: ({ chanceBelow, chanceBelowThreshold }) =>
      chanceBelow === null && chanceBelowThreshold === null
        ? null
        : `below requirement: ${formatChance(chanceBelow)}; below threshold: ${formatChance(chanceBelowThreshold)}`,
  },
];
