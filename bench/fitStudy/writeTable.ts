import { FITS, listCases, MODE_SETS, type PoleOutcome } from './studyPole.ts';

/** The study as Markdown: a table for each choice of root. */
export function writeTable(outcomes: readonly PoleOutcome[], polesPerCase: number): string {
  const lines = [
    '# Does the fit keep its word?',
    '',
    `${polesPerCase} invented poles for each case, from finite elements that share no code with the fit; girth, modulus and density`,
    'vary along each stem and its planes are not alike. Written by `node bench/fitStudy.ts`. Bias and width are of ln E and',
    'ln k_theta: medians over the poles. Held: share of poles whose truth lies in the 90 % interval. Not separated: share of',
    'verdicts. Invented poles show that the method recovers a known answer; they say nothing about real ones.',
  ];
  for (const fit of FITS) {
    lines.push(
      '',
      `## Root of the fit: ${fit}`,
      '',
      '| truth | on the pole | modes | bias of E | width of E | E held | width of root | root held | not separated |',
      '| --- | --- | --- | ---: | ---: | ---: | ---: | ---: | ---: |',
    );
    for (const { truth, hardware } of listCases()) {
      for (const modes of MODE_SETS.map((set) => set.join('-'))) {
        const rows = outcomes.filter(
          (o) => o.fit === fit && o.truth === truth && o.hardware === hardware && o.modes === modes,
        );
        const share = (test: (o: PoleOutcome) => boolean) => percent(rows.filter(test).length / rows.length);
        lines.push(
          `| ${truth} | ${hardware} | ${modes} | ${percent(median(rows.map((o) => o.stemError)))} | ${percent(median(rows.map((o) => o.stemWidth)))} | ${share((o) => o.stemHeld)} | ${percent(median(rows.map((o) => o.rootWidth)))} | ${share((o) => o.rootHeld)} | ${share((o) => o.verdict === 'not separated')} |`,
        );
      }
    }
  }
  return `${lines.join('\n')}\n`;
}

function median(values: readonly number[]): number {
  const ordered = [...values].sort((a, b) => a - b);
  return ordered[Math.floor(ordered.length / 2)] ?? Number.NaN;
}

function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}
