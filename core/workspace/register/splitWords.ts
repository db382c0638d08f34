import { nameFinding } from '../../nameFinding.ts';
import type { RegisterRow } from '../contract.ts';

/** True of nearly every pole: its sentence would be found by nearly every word of it. */
const COMMON_FINDING = 'section-not-inspected';

export type RowWords = {
  /** Words that many rows have alike. */
  readonly shared: string;
  /** Words that are this row's: names, dates, rulings and whatever has a number in it. */
  readonly own: string;
};

/**
 * The words of a row that a search goes through, in lower case: all that it shows, faults and findings in full. Each word is in one of
 * the two parts, and what is searched for lies within one word, so that a search may look through each part by itself.
 */
export function splitWords(row: RegisterRow): RowWords {
  const plain = [
    row.species.replaceAll('-', ' '),
    row.classCode ? `class ${row.classCode}` : '',
    row.verdict,
  ];
  const told = [
    row.identifiability ?? '',
    ...row.need.reasons.map(({ words }) => words),
    ...row.strikes.faults.map((fault) => fault.replaceAll('-', ' ')),
    ...row.findings.map(({ id, text }) =>
      id === COMMON_FINDING ? nameFinding(id) : `${nameFinding(id)} ${text}`,
    ),
  ].flatMap(listWords);
  const ruling = row.ruling ? `${row.ruling.decision} ${row.ruling.analyst} ${row.ruling.reason}` : '';
  const hasNumber = (word: string) => /\d/.test(word);
  return {
    shared: join([...plain.flatMap(listWords), ...told.filter((word) => !hasNumber(word))]),
    own: join([row.poleId, row.date, ...told.filter(hasNumber), ruling].flatMap(listWords)),
  };
}

/** Words of a text in lower case; control characters part them too, since no database looks for all of those. */
export function listWords(text: string): string[] {
  return text
    .toLowerCase()
    .split(/[\s\p{Cc}]+/u)
    .filter(Boolean);
}

/** Each word once and in order, so that equal rows have equal texts. */
function join(words: readonly string[]): string {
  return [...new Set(words)].sort().join('\n');
}
