import type { AssessedStrike, Assessment, CheckResult } from '../../assessment.ts';
import { formatFigure } from '../../formatNumbers.ts';
import { drawPart, drawTable, unhyphenate } from '../blocks.ts';
import { type Markup, markup } from '../markup.ts';
import { drawWaveform } from '../plots/drawWaveform.ts';
import type { ConcludedInput } from '../reportInput.ts';

/** More strikes than this side by side do not fit the width of a page. */
const STRIKES_A_TABLE = 5;
const TIME_DECIMALS = 2;
const LONGEST_NAME = 19;
const KEPT_END = 8;

type NamedStrike = { name: string; strike: AssessedStrike };

/** Recordings as drawn, the strikes found in them, and what the checks say in words and figures. */
export function writeStrikes({ assessment, recordings }: ConcludedInput): Markup {
  const strikesOf = (file: string): AssessedStrike[] =>
    assessment.strikes.filter((strike) => strike.recording === file);
  const named = nameStrikes(assessment);
  const chunks = Array.from({ length: Math.ceil(named.length / STRIKES_A_TABLE) }, (_, i) =>
    named.slice(i * STRIKES_A_TABLE, (i + 1) * STRIKES_A_TABLE),
  );
  return drawPart('Recordings and strikes', [
    recordings.map((recording) => [
      drawWaveform(recording, strikesOf(recording.file)),
      recording.warnings.length > 0 &&
        markup`<p class="note"><b>On reading ${recording.file}:</b> ${recording.warnings.join(' ')}</p>`,
    ]),
    drawTable(
      'Strikes and checks',
      [
        { title: 'Strike' },
        { title: 'By' },
        { title: 'Start', isNumber: true },
        { title: 'Ring-down', isNumber: true },
        { title: 'Verdict' },
        { title: 'What is wrong, and what to do next time' },
      ],
      named.map(({ name, strike }) => [
        name,
        strike.exciter,
        `${strike.startS.toFixed(TIME_DECIMALS)} s`,
        `${(strike.endS - strike.startS).toFixed(TIME_DECIMALS)} s`,
        markup`<b>${strike.verdict}</b>`,
        tellFaults(strike.checks),
      ]),
      'no strike was found in the recordings.',
    ),
    assessment.recordingChecks.length > 0 &&
      drawTable(
        'Checks over several strikes',
        [{ title: 'Check' }, { title: 'Figure (limit)' }, { title: 'Verdict' }, { title: 'In words' }],
        assessment.recordingChecks.map((check) => [
          `${unhyphenate(check.id)}, ${check.unit}`,
          writeFigure(check),
          check.verdict,
          tellFaults([check]),
        ]),
        '',
      ),
    chunks.map((chunk) => drawFigures(chunk)),
  ]);
}

function nameStrikes(assessment: Assessment): NamedStrike[] {
  const counts = new Map<string, number>();
  return assessment.strikes.map((strike) => {
    const number = (counts.get(strike.recording) ?? 0) + 1;
    counts.set(strike.recording, number);
    // A space that does not break keeps the number beside the name.
    return { name: `${shortenName(strike.recording)},\u00a0${number}`, strike };
  });
}

/** Start and end of a long file name; the captions and the provenance give it whole. */
function shortenName(file: string): string {
  if (file.length <= LONGEST_NAME) return file;
  return `${file.slice(0, LONGEST_NAME - KEPT_END - 1)}…${file.slice(-KEPT_END)}`;
}

function tellFaults(checks: readonly CheckResult[]): Markup | string {
  const faults = checks.filter((check) => check.verdict !== 'use');
  if (faults.length === 0) return 'nothing found';
  return markup`${faults.map(
    (check) =>
      markup`<p><b>${unhyphenate(check.id)}:</b> ${check.text} ${check.advice !== '' && markup`<i>${check.advice}</i>`}</p>`,
  )}`;
}

/** Every check's figure, a column for each strike; what is not plain `use` carries its verdict. */
function drawFigures(chunk: readonly NamedStrike[]): Markup {
  const ids = [...new Set(chunk.flatMap(({ strike }) => strike.checks.map((check) => check.id)))];
  return drawTable(
    'Figures of the checks (limit in brackets)',
    [{ title: 'Check' }, ...chunk.map(({ name }) => ({ title: name, isNumber: true }))],
    ids.map((id) => [
      `${unhyphenate(id)}, ${unitOf(chunk, id)}`,
      ...chunk.map(({ strike }) => {
        const check = strike.checks.find((candidate) => candidate.id === id);
        if (check === undefined) return '';
        return markup`${writeFigure(check)}${check.verdict !== 'use' && markup`<br><b>${check.verdict}</b>`}`;
      }),
    ]),
    'no check was run.',
  );
}

function unitOf(chunk: readonly NamedStrike[], id: string): string {
  return chunk.flatMap(({ strike }) => strike.checks).find((check) => check.id === id)?.unit ?? '';
}

function writeFigure({ value, limit }: CheckResult): string {
  if (value === null) return 'not computed';
  return `${formatFigure(value)}${limit === null ? '' : ` (${formatFigure(limit)})`}`;
}
