import type { PickDecision } from '../../assessment.ts';
import { drawPart, drawTable } from '../blocks.ts';
import { formatQuantity, formatTime, UNITS } from '../formatNumbers.ts';
import { type Markup, markup } from '../markup.ts';
import { planeSymbol } from '../plots/planeMark.ts';
import type { ReportInput, ReportRuling } from '../reportInput.ts';

const DIGITS_OF_FREQUENCY = 4;

/** What people decided: picks of the analyst, rulings with their reasons, and lines to sign on. */
export function writeRulings({ decisions, rulings }: ReportInput): Markup {
  return drawPart('Decisions and rulings', [
    drawTable(
      'Picks decided by the analyst',
      [{ title: 'Plane' }, { title: 'Mode', isNumber: true }, { title: 'Decision' }],
      decisions.map((decision) => [
        markup`${planeSymbol(decision.plane)} ${decision.plane + 1}`,
        decision.number,
        tellDecision(decision),
      ]),
      'none; all picks are the program’s own.',
    ),
    drawTable(
      'Rulings',
      [{ title: 'When' }, { title: 'By' }, { title: 'Ruling' }, { title: 'Reason' }],
      rulings.map((ruling) => [
        formatTime(ruling.decidedAt),
        ruling.signed
          ? `${ruling.analyst}; signed by ${ruling.signed.person}, ${formatTime(ruling.signed.markedAt)}`
          : ruling.analyst,
        ruling.withdrawn ? markup`<s>${ruling.decision}</s>` : markup`<b>${ruling.decision}</b>`,
        tellReason(ruling),
      ]),
      'nobody has ruled on this visit yet.',
    ),
    markup`<div class="signatures">${['Measured by', 'Analysed by', 'Engineer'].map(
      (role) => markup`<div><p>${role}</p><p class="line">name and number, signature, date</p></div>`,
    )}</div>`,
  ]);
}

function tellDecision({ frequencyHz }: PickDecision): string {
  return frequencyHz === null
    ? 'no mode of this number in this plane'
    : `at ${formatQuantity(frequencyHz, UNITS.hertz, DIGITS_OF_FREQUENCY)}`;
}

/** A ruling that was taken back, or that was made on another result, must not pass for one on this. */
function tellReason({ reason, withdrawn, isOnThisResult }: ReportRuling): Markup | string {
  if (withdrawn) {
    return markup`${reason} <i>(withdrawn by ${withdrawn.person}, ${formatTime(withdrawn.markedAt)})</i>`;
  }
  return isOnThisResult ? reason : markup`${reason} <i>(on an earlier result)</i>`;
}
