/** Text that is already safe to stand in the HTML of the report. Made by {@link markup} alone. */
export class Markup {
  readonly html: string;

  constructor(html: string) {
    this.html = html;
  }
}

/** What may stand in a `${}` of {@link markup}; null and false stand for nothing. */
export type MarkupValue = string | number | Markup | null | false | readonly MarkupValue[];

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

// C0 and C1 controls, which no HTML document may hold; tab, line feed and carriage return stay.
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is being replaced.
const CONTROL_CHARACTERS = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f]/g;

/** Text as it must be written to show as itself, in an element or in a quoted attribute. */
function escapeHtml(text: string): string {
  return text
    .toWellFormed()
    .replace(CONTROL_CHARACTERS, '\ufffd')
    .replace(/[&<>"']/g, (character) => ENTITIES[character]!);
}

/**
 * Template tag for HTML and SVG: every value is escaped unless it is itself markup, so that what people
 * typed (a pole's id, a ruling's reason, a file's name) cannot become part of the document's structure.
 */
export function markup(parts: TemplateStringsArray, ...values: readonly MarkupValue[]): Markup {
  let html = parts[0]!;
  values.forEach((value, i) => {
    html += writeValue(value) + parts[i + 1]!;
  });
  return new Markup(html);
}

function writeValue(value: MarkupValue): string {
  if (value === null || value === false) return '';
  if (value instanceof Markup) return value.html;
  if (typeof value === 'string') return escapeHtml(value);
  if (typeof value === 'number') return String(value);
  return value.map(writeValue).join('');
}

/**
 * Text as a quoted string of CSS: all but plain letters, digits, space and a few marks become code points,
 * so that neither the string nor the style element around it can be left.
 */
export function writeCssString(text: string): Markup {
  const escaped = text
    .toWellFormed()
    .replace(/[^A-Za-z0-9 .,:·-]/gu, (character) => `\\${character.codePointAt(0)!.toString(16)} `);
  return new Markup(`"${escaped}"`);
}
