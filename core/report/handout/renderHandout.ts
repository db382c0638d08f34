import { drawList } from '../blocks.ts';
import { Markup, type MarkupValue, markup } from '../markup.ts';
import { STYLES } from '../styles.ts';
import { drawBlow } from './drawBlow.ts';
import type { HandoutBlow, HandoutInput } from './handoutInput.ts';

const HANDOUT_STYLES = new Markup(`
.blow { break-inside: avoid; margin-top: 4mm; border-top: 0.4mm solid var(--ink); padding-top: 1.5mm; }
.blow > h2 { font-size: 12pt; }
section > h2::before { content: none; }
.blow .from { color: var(--soft); font-size: 8pt; }
.fault { fill: #e69f00; fill-opacity: 0.45; stroke: #16202a; stroke-width: 0.5; }
.boxes { columns: 4; list-style: none; padding: 0; margin: 1mm 0; font-size: 8.5pt; }
.boxes li::before { content: ""; display: inline-block; width: 3mm; height: 3mm; border: 0.3mm solid var(--ink); margin-right: 2mm; vertical-align: -0.5mm; }
.write { border-bottom: 0.2mm solid var(--rule); padding-bottom: 5mm; }
.notes { white-space: pre-wrap; margin: 2mm 0; }
.name-line { margin: 4mm 0; }
.name-line span { display: inline-block; min-width: 60mm; border-bottom: 0.3mm solid var(--ink); }
`);

/**
 * A lesson on paper: one HTML file that needs nothing else and holds no script. The form with questions names neither
 * titles, nor files, nor faults of the blows.
 */
export function renderHandout(input: HandoutInput): string {
  const isExplained = input.form === 'explained';
  const title = isExplained ? input.title : `${input.title}: questions`;
  return markup`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="${input.program}">
<title>${title}</title>
<style>${STYLES}${HANDOUT_STYLES}</style>
</head>
<body>
<article>
<header class="masthead"><h1>${title}</h1>${input.maker !== '' && markup`<span class="when">${input.maker}</span>`}</header>
${isExplained ? input.notes !== '' && markup`<p class="notes">${input.notes}</p>` : drawNameLine()}
${input.blows.map((blow) => (isExplained ? explain(blow) : ask(blow, input)))}
${isExplained && drawFaultList(input)}
<section class="cautions"><h2>Cautions</h2>${drawList(input.cautions)}</section>
</article>
</body>
</html>
`.html;
}

function drawNameLine(): Markup {
  return markup`<p class="name-line">Name <span></span> Date <span></span></p>
<p>For each blow, tick every fault that you see in the pictures, or that nothing is wrong.</p>`;
}

function explain(blow: HandoutBlow): Markup {
  return markup`<section class="blow"><h2>${blow.number}. ${blow.title === '' ? 'A blow' : blow.title}</h2>
<p class="from">By ${blow.exciter}. ${blow.source}. Verdict of the checks: <b>${blow.verdict}</b>.${blow.question !== null && ` In the questions: blow ${blow.question}.`}</p>
${drawPictures(blow)}
${blow.note !== '' && markup`<p class="notes">${blow.note}</p>`}
${drawList(listFaults(blow))}
</section>
`;
}

function listFaults({ faults, stated, pictures }: HandoutBlow): MarkupValue[] {
  if (pictures === null) return [];
  const found = faults.map(
    ({ name, text, advice }) => markup`<b>${name}.</b> ${text} <i>Next time: ${advice}</i>`,
  );
  return [
    ...(found.length > 0 ? found : ['The checks find nothing wrong.']),
    ...(stated === null
      ? []
      : [
          markup`The maker of the lesson states: ${stated.length === 0 ? 'nothing is wrong' : stated.join(', ').toLowerCase()}.`,
        ]),
  ];
}

function ask(blow: HandoutBlow, { faults }: HandoutInput): Markup {
  const boxes = [...faults.filter(({ asked }) => asked).map(({ name }) => name), 'Nothing wrong'];
  return markup`<section class="blow"><h2>Blow ${blow.number}</h2>
<p class="from">By ${blow.exciter}.</p>
${drawPictures({ ...blow, pictures: blow.pictures && { ...blow.pictures, marks: [] } })}
<ul class="boxes">${boxes.map((name) => markup`<li>${name}</li>`)}</ul>
<p class="write">Where do you see it?</p>
</section>
`;
}

function drawPictures(blow: HandoutBlow): Markup {
  if (blow.pictures) return drawBlow(blow, blow.pictures);
  return markup`<p class="empty">The recording of this blow is not in the workspace.</p>`;
}

function drawFaultList({ faults }: HandoutInput): Markup {
  return markup`<section class="blow"><h2>Where to look</h2><div class="record"><dl>${faults.map(
    ({ name, look }) => markup`<div><dt><b>${name}</b></dt><dd>${look}</dd></div>`,
  )}</dl></div></section>
`;
}
