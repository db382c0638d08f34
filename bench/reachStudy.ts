/**
 * Of which poles a relation tells a strength, and how well that holds, over the invented series of bench/strengthStudy.ts: poles of the tested kind;
 * poles of that kind that decay has softened and weakened all through; and poles of a weaker species of which one was tested.
 * `node bench/reachStudy.ts [series a cell, 2000]` prints the tables and writes docs/studies/reach.md; some minutes.
 */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  type BreakTestRow,
  chanceBelow,
  type FittedRelation,
  measurementsOf,
  predictFromRelation,
} from '../core/strength/index.ts';
import { predictByLine } from '../core/strength/relation/predictByLine.ts';
import { drawSeries, normalDraws } from './strengthStudy/drawPoles.ts';
import { fitOrNull } from './strengthStudy/fitOrNull.ts';
import { COUNTS, listCases, type StudyCase } from './strengthStudy/listCases.ts';

const DEFAULT_SERIES = 2000;
/** Half of the stiffness and three fifths of the strength lost all through (ours). */
const DECAYED = { modulus: 0.5, strength: 0.4 };
/** Strength of the weaker species at the same E, over that of the others; green redcedar against southern pine is some three quarters (Wood Handbook). */
const WEAKER = 0.72;
const TAIL = 0.05;
/** Fewer poles than these tell no share. */
const FEWEST = 100;

type Counted = { told: number; above: number; lineAbove: number; of: number };

const series = Number(process.argv[2] ?? DEFAULT_SERIES);
const cases = listCases();
const lines = [
  '# Of which poles does a relation tell a strength?',
  '',
  `Invented break tests as in [strength.md](strength.md), ${series} series a cell. Written by \`node bench/reachStudy.ts\`. A cell: per cent of poles that a strength`,
  'is told of / of these, per cent stronger than their lower 5 % value (wanted: 95) / of all poles, by the line alone, wherever they lie. A dash: told of fewer than 100 poles.',
  '',
  '## Poles of the tested kind',
  '',
  ...tabulate(cases, ({ pole }) => pole.row),
  '',
  '## Poles with half the stiffness and two fifths of the strength',
  '',
  ...tabulate(cases.slice(0, 4), ({ pole }) => ({
    ...pole.row,
    modulusPa: pole.row.modulusPa! * DECAYED.modulus,
    modulusOfRupturePa: pole.row.modulusOfRupturePa * DECAYED.strength,
  })),
  '',
  `## Poles of a species with ${WEAKER} of the strength, of which one pole was tested`,
  '',
  'Species taken together: the line holds what it promises of none but the others.',
  '',
  ...tabulate(
    cases.slice(0, 4),
    ({ pole }) => makeWeaker(pole.row),
    (tests) => tests.map((row, i) => (i === 0 ? makeWeaker(row) : row)),
  ),
  '',
];
process.stdout.write(lines.join('\n'));
writeFileSync(join(import.meta.dirname, '..', 'docs', 'studies', 'reach.md'), lines.join('\n'));

function tabulate(
  studies: readonly StudyCase[],
  choose: (drawn: ReturnType<typeof drawSeries>) => BreakTestRow,
  change: (tests: readonly BreakTestRow[]) => readonly BreakTestRow[] = (tests) => tests,
): string[] {
  return [
    `| relation | error of E: tests, pole | ${COUNTS.map((n) => `n = ${n}`).join(' | ')} |`,
    `| --- | --- | ${COUNTS.map(() => '---:').join(' | ')} |`,
    ...studies.map((study) => {
      const cells = COUNTS.map((count, i) => {
        if (!study.counts.includes(count)) return 'refused';
        return show(countPoles(study, count, i + 1, choose, change));
      });
      const ofTests = study.testErrorSds.map((sd) => (100 * sd).toFixed(0)).join(' or ');
      return `| ${study.label} | ${ofTests} %, ${(100 * study.poleErrorSd).toFixed(0)} % | ${cells.join(' | ')} |`;
    }),
  ];
}

function countPoles(
  study: StudyCase,
  count: number,
  seed: number,
  choose: (drawn: ReturnType<typeof drawSeries>) => BreakTestRow,
  change: (tests: readonly BreakTestRow[]) => readonly BreakTestRow[],
): Counted {
  const draws = normalDraws(seed);
  const counted: Counted = { told: 0, above: 0, lineAbove: 0, of: 0 };
  for (let i = 0; i < study.share * series; i++) {
    const drawn = drawSeries(study, count, draws);
    const tests = change(drawn.tests);
    const fit = fitOrNull(tests, study.spec);
    const pole = choose(drawn);
    if (!fit || tests.every(({ species }) => species !== pole.species)) continue;
    addPole(counted, fit, pole);
  }
  return counted;
}

function addPole(counted: Counted, fit: FittedRelation, pole: BreakTestRow): void {
  const measured = measurementsOf(pole);
  const line = predictByLine(fit, measured);
  if (line.modulusOfRupturePa === null) return;
  counted.of++;
  const truth = pole.modulusOfRupturePa;
  if (chanceBelow(line.modulusOfRupturePa, truth) > TAIL) counted.lineAbove++;
  const told = predictFromRelation(fit, { ...measured, isBare: true });
  if (told.modulusOfRupturePa === null) return;
  counted.told++;
  if (chanceBelow(told.modulusOfRupturePa, truth) > TAIL) counted.above++;
}

function makeWeaker(row: BreakTestRow): BreakTestRow {
  return {
    ...row,
    species: 'western-redcedar',
    modulusOfRupturePa: row.modulusOfRupturePa * WEAKER,
    groundlineMomentNm: row.groundlineMomentNm * WEAKER,
  };
}

function show({ told, above, lineAbove, of }: Counted): string {
  const percent = (share: number) => (100 * share).toFixed(1);
  return `${percent(told / of)} / ${told < FEWEST ? '–' : percent(above / told)} / ${percent(lineAbove / of)}`;
}
