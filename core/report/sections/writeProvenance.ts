import { formatQuantity, formatTime, UNITS } from '../../formatNumbers.ts';
import { drawPart, drawRecord, drawTable } from '../blocks.ts';
import { type Markup, markup } from '../markup.ts';
import { isConcluded, type ReportInput } from '../reportInput.ts';

/** What somebody needs to repeat the result: program, seed, and the hashes of all that went in. */
export function writeProvenance(input: ReportInput): Markup {
  const provenance = isConcluded(input) ? input.assessment.provenance : null;
  return drawPart('Provenance', [
    drawRecord('Program and inputs', [
      ['Assessed by', provenance?.program ?? 'not assessed'],
      ['Printed by', input.program],
      ['Printed at', formatTime(input.printedAt)],
      ['Seed', provenance?.seed ?? 'none'],
      ['SHA-256 of all inputs', markup`<code>${provenance?.inputsSha256 ?? 'not assessed'}</code>`],
    ]),
    drawTable(
      'Recordings',
      [
        { title: 'File' },
        { title: 'Blow' },
        { title: 'Sample rate', isNumber: true },
        { title: 'Length', isNumber: true },
        { title: 'SHA-256' },
      ],
      input.recordings.map((recording) => [
        recording.file,
        recording.exciter,
        `${recording.sampleRateHz} Hz`,
        formatQuantity(recording.durationS, UNITS.second),
        markup`<code>${recording.sha256}</code>`,
      ]),
      'none could be read.',
    ),
  ]);
}
