/** Controls of a terminal, but the ends of lines and tabs that tables are made of. */
const CONTROLS = /[^\P{Cc}\n\t]/gu;

/**
 * Text for a terminal. Names and reasons come out of files that others may have made, and a terminal takes orders by control
 * characters: to rewrite what it shows, or its title. They are shown as the sign for what cannot be shown.
 */
export function plainText(text: string): string {
  return text.replace(CONTROLS, '\ufffd');
}
