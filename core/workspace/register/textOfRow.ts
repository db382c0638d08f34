import type { RegisterRow } from '../contract.ts';

/** True of nearly every pole: its sentence would be found by nearly every word of it. */
const COMMON_FINDING = 'section-not-inspected';

/** The words of a row that a search goes through, in lower case: all that it shows, faults and findings in full. */
export function textOfRow(row: RegisterRow): string {
  return [
    row.poleId,
    row.species.replaceAll('-', ' '),
    row.classCode ? `class ${row.classCode}` : '',
    row.date,
    row.verdict,
    row.identifiability ?? '',
    ...row.need.reasons.map(({ words }) => words),
    ...row.strikes.faults.map((fault) => fault.replaceAll('-', ' ')),
    row.ruling ? `${row.ruling.decision} ${row.ruling.analyst} ${row.ruling.reason}` : '',
    ...row.findings.map(({ id, text }) =>
      id === COMMON_FINDING ? id.replaceAll('-', ' ') : `${id.replaceAll('-', ' ')} ${text}`,
    ),
  ]
    .join('\n')
    .toLowerCase();
}
