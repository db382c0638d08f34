/** `1,500`: one and a half by some, fifteen hundred by others. */
const EITHER = /^[1-9]\d{0,2}(,\d{3})+(?!\d)/;

/**
 * What to type in place of a number whose comma may part thousands or decimals; null where only one can be meant.
 * @param isPossible - whether the text without its commas says what can be taken
 */
export function askAboutComma(text: string, isPossible: (joined: string) => boolean): string | null {
  const [either] = EITHER.exec(text.trim()) ?? [];
  if (either === undefined || !isPossible(text.replaceAll(',', ''))) return null;
  return `type ${either.replaceAll(',', '')}, or ${either.replace(',', '.')} with a point: the comma may mean either`;
}
