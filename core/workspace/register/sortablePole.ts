/**
 * A text whose bytes sort as people sort the names of poles: capitals beside small letters, accents beside bare letters, numbers by
 * their value, signs before numbers before letters. Both databases can compare bytes; neither can be asked to compare as
 * `Intl.Collator` does. Names of plain letters, numbers and signs (ASCII) stand as it has them; letters of other scripts by their code.
 */
export function sortablePole(name: string): string {
  const bare = name.normalize('NFD').replaceAll(/\p{M}/gu, '').toLowerCase();
  const first = bare.replaceAll(/\d+|[\x20-\x7e]/g, (part) => PLACES.get(part) ?? weighNumber(part));
  // of names that differ by accents or capitals alone, small letters first, as the collator has it
  return `${first}${SEPARATOR}${swapCase(name)}`;
}

/** Below every other character of a sortable text. */
const SEPARATOR = '\u0001';
/** Signs stand from here on: all of them below the digits. */
const FIRST_PLACE = 2;

const byName = new Intl.Collator('en');
const signs = Array.from({ length: 0x7f - 0x20 }, (_, i) => String.fromCharCode(0x20 + i))
  .filter((sign) => !/[a-z0-9]/i.test(sign))
  .sort(byName.compare);
const PLACES: ReadonlyMap<string, string> = new Map([
  ...signs.map((sign, i) => [sign, String.fromCharCode(FIRST_PLACE + i)] as const),
  ...Array.from('abcdefghijklmnopqrstuvwxyz', (letter) => [letter, letter] as const),
]);

/** Digits whose count is one character; more are told by two. */
const MOST_SHORT = 8;

/** Digits after their count, so that the number with more of them comes later. */
function weighNumber(digits: string): string {
  const value = digits.replace(/^0+/, '');
  const { length } = value;
  return length <= MOST_SHORT ? `${length}${value}` : `9${String(length).padStart(4, '0')}${value}`;
}

function swapCase(text: string): string {
  return Array.from(text, (letter) =>
    letter === letter.toLowerCase() ? letter.toUpperCase() : letter.toLowerCase(),
  ).join('');
}
