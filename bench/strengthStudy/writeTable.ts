import { COUNTS } from './listCases.ts';
import type { CaseOutcome, Coverage } from './studyCase.ts';
import type { ToleranceOutcome } from './studyTolerance.ts';

/** Shares that 95 % intervals are to hold, in per cent. */
const GOAL_PERCENT = [94, 96] as const;
/** What a person wrote under the tables stays when they are written anew. */
const READING = '\n## Reading\n';

/** The study as Markdown, and the reading that stood under the former one. */
export function writeTable(
  outcomes: readonly CaseOutcome[],
  tolerances: readonly ToleranceOutcome[],
  series: number,
  former: string,
): string {
  const noisePercent = 100 * Math.sqrt((0.95 * 0.05) / series);
  const lines = [
    '# Do prediction intervals keep their word?',
    '',
    `Invented break tests, ${series} series a cell; from each the capacity of one further pole of the same kind is predicted and held`,
    'against its truth. ln strength = ln 45 MPa + 0.6 (ln E - ln 11 GPa) + 0.15 Z, ln E scatters by 0.2 between poles, E is measured with an',
    'error of its own in the tests and on the pole, the girth of the pole with 1 % (3 % of capacity). Written by',
    `\`node bench/strengthStudy.ts\`. A cell: per cent of truths inside the 95 % interval / above the lower 5 % value; its own sampling error is`,
    `${noisePercent.toFixed(1)} %. Wanted: ${GOAL_PERCENT[0]} to ${GOAL_PERCENT[1]}. Ignored: the same tests with the error of E ignored, E of the pole taken for as sure as those of the tests.`,
    'Naive: the line of least squares with 1.96 (1.645) residual deviations, as if line and deviation were known and E and girth exact.',
    'Invented poles show that the method keeps its word on its own assumptions; they say nothing about real ones. Poles are predicted by the line wherever they lie; of which a strength',
    'is told in service is in [reach.md](reach.md).',
    '',
    '## One species, log-linear, least squares',
    '',
    ...tabulate(outcomes, 'plain'),
    '',
    '## Groups: species pooled or fixed',
    '',
    'Species differ by 0.12 in ln strength and 0.15 in ln E; the first is met most often. Only poles of species that the series holds are counted. Two fifths as many series.',
    '',
    ...tabulate(outcomes, 'groups'),
    '',
    '## Robust fit, and a linear relation to poles that are linear',
    '',
    ...tabulate(outcomes, 'robust', 'linear'),
    '',
    '## Lower tolerance limits',
    '',
    'Per cent of series whose limit is exceeded by 95 % or more of all poles with the measured modulus of the pole; girth exact.',
    '',
    `| error of E | confidence asked | ${COUNTS.map((n) => `n = ${n}`).join(' | ')} |`,
    `| --- | --- | ${COUNTS.map(() => '---:').join(' | ')} |`,
    ...tabulateTolerances(tolerances),
  ];
  const reading = former.indexOf(READING);
  return `${lines.join('\n')}\n${reading < 0 ? '' : former.slice(reading)}`;
}

function tabulate(
  outcomes: readonly CaseOutcome[],
  ...tables: readonly CaseOutcome['study']['table'][]
): string[] {
  const own = outcomes.filter(({ study }) => tables.includes(study.table));
  const cases = [...new Set(own.map(({ study }) => study))];
  const cell = ({ inside, above }: Coverage) => `${(100 * inside).toFixed(1)} / ${(100 * above).toFixed(1)}`;
  const within = own.filter(({ own: { inside, above } }) => [inside, above].every(isWithinGoal)).length;
  return [
    `${within} of ${own.length} cells of the program's intervals lie between ${GOAL_PERCENT[0]} and ${GOAL_PERCENT[1]} in both figures.`,
    '',
    `| relation | error of E: tests, pole | interval | ${COUNTS.map((n) => `n = ${n}`).join(' | ')} |`,
    `| --- | --- | --- | ${COUNTS.map(() => '---:').join(' | ')} |`,
    ...cases.flatMap((study) =>
      (['own', 'ignored', 'naive'] as const).map((way) => {
        const cells = COUNTS.map((count) => {
          const outcome = own.find((o) => o.study === study && o.count === count);
          return outcome ? cell(outcome[way]) : 'refused';
        });
        const name = { own: 'the program’s', ignored: 'error ignored', naive: 'naive' }[way];
        const ofTests = study.testErrorSds.map((sd) => (100 * sd).toFixed(0)).join(' or ');
        const errors = `${ofTests} %, ${(100 * study.poleErrorSd).toFixed(0)} %`;
        return `| ${study.label} | ${errors} | ${name} | ${cells.join(' | ')} |`;
      }),
    ),
  ];
}

function isWithinGoal(share: number): boolean {
  // as printed: to a tenth of a per cent
  const percent = Math.round(1000 * share) / 10;
  return percent >= GOAL_PERCENT[0] && percent <= GOAL_PERCENT[1];
}

function tabulateTolerances(tolerances: readonly ToleranceOutcome[]): string[] {
  const errors = [...new Set(tolerances.map(({ errorSd }) => errorSd))];
  return errors.flatMap((errorSd) =>
    (['kept75', 'kept95'] as const).map((which) => {
      const cells = COUNTS.map((count) => {
        const { [which]: kept } = tolerances.find((t) => t.errorSd === errorSd && t.count === count)!;
        return (100 * kept).toFixed(1);
      });
      return `| ${(100 * errorSd).toFixed(0)} % | ${which === 'kept75' ? 75 : 95} % | ${cells.join(' | ')} |`;
    }),
  );
}
