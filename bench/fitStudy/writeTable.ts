import { FITS, listCases, MODE_SETS, type PoleOutcome } from './studyPole.ts';

/** Shares that 90 % intervals are to hold, in per cent. */
const GOAL_PERCENT = [87, 93] as const;
/** What a person wrote under the tables stays when they are written anew. */
const READING = '\n## Reading\n';

/** The study as Markdown: a table for each choice of root, and the reading that stood under the former ones. */
export function writeTable(outcomes: readonly PoleOutcome[], polesPerCase: number, former: string): string {
  const lines = [
    '# Does the fit keep its word?',
    '',
    `${polesPerCase} invented poles for each case, from finite elements that share no code with the fit; girth, modulus and density`,
    'vary along each stem, its planes are not alike, and its shear is not the usual. Modulus, density and root are drawn evenly from the',
    'priors of the fit (Latin hypercube). Written by `node bench/fitStudy.ts`. Bias and width are of ln E and ln k_theta:',
    'medians over the poles. Held: share of poles whose truth lies in the 90 % interval. One-sided, not separated: share of',
    'verdicts. Invented poles show that the method recovers a known answer; they say nothing about real ones.',
  ];
  for (const fit of FITS) {
    lines.push(
      '',
      `## Root of the fit: ${fit}`,
      '',
      ...tabulate(outcomes.filter((o) => o.fit === fit && o.roughness === 1)),
    );
  }
  lines.push(
    '',
    '## Poles twice as irregular as the fit takes them to be, true root',
    '',
    ...tabulate(outcomes.filter((o) => o.roughness > 1)),
  );
  const reading = former.indexOf(READING);
  return `${lines.join('\n')}\n${reading < 0 ? '' : former.slice(reading)}`;
}

function tabulate(outcomes: readonly PoleOutcome[]): string[] {
  const cells = listCases().flatMap(({ truth, hardware }) =>
    MODE_SETS.map((set) => set.join('-')).map((modes) => ({
      truth,
      hardware,
      modes,
      rows: outcomes.filter((o) => o.truth === truth && o.hardware === hardware && o.modes === modes),
    })),
  );
  const lines = cells.map(({ truth, hardware, modes, rows }) => {
    const columns = [
      truth,
      hardware,
      modes,
      percent(median(rows.map((o) => o.stemError))),
      percent(median(rows.map((o) => o.stemWidth))),
      percent(shareOf(rows, (o) => o.stemHeld)),
      percent(median(rows.map((o) => o.rootWidth))),
      percent(shareOf(rows, (o) => o.rootHeld)),
      percent(shareOf(rows, (o) => o.verdict === 'one-sided')),
      percent(shareOf(rows, (o) => o.verdict === 'not separated')),
    ];
    return `| ${columns.join(' | ')} |`;
  });
  return [
    `${cells[0]!.rows.length} poles a case. Between ${GOAL_PERCENT[0]} and ${GOAL_PERCENT[1]} % held: E in ${countWithin(cells, 'stemHeld')}, root in ${countWithin(cells, 'rootHeld')} of ${cells.length} cells; over all cells E in ${percent(shareOf(outcomes, (o) => o.stemHeld))}, root in ${percent(shareOf(outcomes, (o) => o.rootHeld))}.`,
    '',
    '| truth | on the pole | modes | bias of E | width of E | E held | width of root | root held | one-sided | not separated |',
    '| --- | --- | --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |',
    ...lines,
  ];
}

function countWithin(
  cells: readonly { rows: readonly PoleOutcome[] }[],
  held: 'stemHeld' | 'rootHeld',
): number {
  // as printed: to a tenth of a per cent
  const shares = cells.map(({ rows }) => Math.round(1000 * shareOf(rows, (o) => o[held])) / 10);
  return shares.filter((share) => share >= GOAL_PERCENT[0] && share <= GOAL_PERCENT[1]).length;
}

function shareOf(rows: readonly PoleOutcome[], test: (outcome: PoleOutcome) => boolean): number {
  return rows.filter(test).length / rows.length;
}

function median(values: readonly number[]): number {
  const ordered = [...values].sort((a, b) => a - b);
  return ordered[Math.floor(ordered.length / 2)] ?? Number.NaN;
}

function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}
