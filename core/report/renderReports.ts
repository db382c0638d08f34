import { formatTime } from '../formatNumbers.ts';
import { hideWithheld } from './hideWithheld.ts';
import { Markup, markup, writeCssString } from './markup.ts';
import { isConcluded, type ReportInput } from './reportInput.ts';
import { writeFirstPage } from './sections/writeFirstPage.ts';
import { writeModes } from './sections/writeModes.ts';
import { writePole } from './sections/writePole.ts';
import { writeProvenance } from './sections/writeProvenance.ts';
import { writeRulings } from './sections/writeRulings.ts';
import { writeStemRoot } from './sections/writeStemRoot.ts';
import { writeStrength } from './sections/writeStrength.ts';
import { writeStrikes } from './sections/writeStrikes.ts';
import { STYLES } from './styles.ts';

/**
 * The report of one visit: one HTML file that needs nothing else, holds no script, and prints on A4 and Letter.
 * The same input gives the same text.
 */
export function renderReport(input: ReportInput): string {
  return renderReports([input]);
}

/** Reports of several visits in one file, each from a new page on. */
export function renderReports(inputs: readonly ReportInput[]): string {
  const title = inputs.map((input) => `${input.visit.pole.id}, ${input.visit.measured.date}`).join('; ');
  return markup`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="${inputs[0]?.program ?? ''}">
<title>Pole report: ${title}</title>
<style>${STYLES}${inputs.map(writePageMargins)}</style>
</head>
<body>
${inputs.map(writeArticle)}</body>
</html>
`.html;
}

function writeArticle(given: ReportInput, index: number): Markup {
  const input = hideWithheld(given);
  return markup`<article class="visit-${index + 1}">
${writeFirstPage(input)}
${
  isConcluded(input)
    ? [writePole(input), writeStrikes(input), writeModes(input), writeStemRoot(input), writeStrength(input)]
    : writePole(input)
}${writeProvenance(input)}${writeRulings(input)}</article>
`;
}

/** Running head and foot of a visit's pages, for browsers that print margin boxes; others leave them out. */
function writePageMargins(input: ReportInput, index: number): Markup {
  const name = new Markup(`visit-${index + 1}`);
  const style = new Markup('font: 7.5pt "Liberation Sans", Arial, sans-serif; color: #55606b;');
  const { pole, measured } = input.visit;
  return markup`
@page ${name} {
  @top-left { content: ${writeCssString(`Pole ${pole.id}, visit of ${measured.date}`)}; ${style} }
  @top-right { content: ${writeCssString(`printed ${formatTime(input.printedAt)}`)}; ${style} }
  @bottom-left { content: "An estimate is not a clearance to climb."; ${style} }
  @bottom-right { content: "page " counter(page) " of " counter(pages); ${style} }
}
.${name} { page: ${name}; }
`;
}
