import { BREAK_TEST_FIELD_NAMES, type BreakTestField, describeField } from './breakTestFields.ts';
import type { BreakTestMapping } from './breakTestMapping.ts';
import { findUnit, QUANTITIES } from './quantities.ts';
import { type HeaderWords, readHeader } from './readHeader.ts';

type Proposal = { field: BreakTestField; unit: string | null; isCertain: boolean; words: number };

/** A unit may be three words long: `kg per m3`. */
const LONGEST_UNIT_WORDS = 3;
/** A header that is understood in part must hold at least so many words of a name. */
const FEWEST_WORDS_IN_PART = 2;
/** A height from there is no height above ground line, nor a girth there one at ground line. */
const FROM_ELSEWHERE = ['butt'];

/**
 * Proposes what each column of a table of break tests holds, and in which unit, from its header: whole names first, then
 * names that a longer header holds. Each field once; the header that names it best wins, of equal ones the first.
 * @returns columns in order, field null where the header says nothing that is known
 */
export function proposeColumns(header: readonly string[]): BreakTestMapping['columns'] {
  const proposals = header.flatMap((cell, index) => {
    const words = readHeader(cell);
    return BREAK_TEST_FIELD_NAMES.flatMap((field) => {
      const proposal = matchField(words, field);
      return proposal ? [{ index, ...proposal }] : [];
    });
  });
  proposals.sort(
    (a, b) => Number(b.isCertain) - Number(a.isCertain) || b.words - a.words || a.index - b.index,
  );
  const chosen = new Map<number, Proposal>();
  const taken = new Set<BreakTestField>();
  for (const { index, ...proposal } of proposals) {
    if (chosen.has(index) || taken.has(proposal.field)) continue;
    chosen.set(index, proposal);
    taken.add(proposal.field);
  }
  return header.map((cell, index) => {
    const { field = null, unit = null, isCertain = false } = chosen.get(index) ?? {};
    return { header: cell, field, unit, isCertain };
  });
}

function matchField(header: HeaderWords, field: BreakTestField): Proposal | null {
  const { quantity } = describeField(field);
  if (quantity === null) return matchWords(header.words, field, null);
  const usual = QUANTITIES[quantity].usual;
  if (header.bracketed !== null) {
    // what is not known there may be a unit all the same: it is not taken for the usual one
    return matchWords(header.words, field, findUnit(quantity, header.bracketed)?.name ?? null);
  }
  for (let length = Math.min(LONGEST_UNIT_WORDS, header.words.length - 1); length > 0; length--) {
    const unit = findUnit(quantity, header.words.slice(-length).join(' '));
    const match = unit && matchWords(header.words.slice(0, -length), field, unit.name);
    if (match) return match;
  }
  return matchWords(header.words, field, usual);
}

function matchWords(words: readonly string[], field: BreakTestField, unit: string | null): Proposal | null {
  let best: Proposal | null = null;
  for (const name of describeField(field).words) {
    const wanted = name.split(' ');
    if (!wanted.every((word) => words.includes(word))) continue;
    if (FROM_ELSEWHERE.some((word) => words.includes(word) && !wanted.includes(word))) continue;
    const isCertain = wanted.length === words.length;
    if (!isCertain && wanted.length < FEWEST_WORDS_IN_PART) continue;
    if (best === null || Number(isCertain) > Number(best.isCertain) || wanted.length > best.words) {
      best = { field, unit, isCertain, words: wanted.length };
    }
  }
  return best;
}
