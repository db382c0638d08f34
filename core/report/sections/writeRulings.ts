import { formatTime } from '../../formatNumbers.ts';
import { drawPart, drawTable } from '../blocks.ts';
import { type Markup, markup } from '../markup.ts';
import type { ReportInput, ReportRuling } from '../reportInput.ts';
import { listSetByHand } from './listSetByHand.ts';
import { tellKept } from './tellKept.ts';

/** What people decided: picks of the analyst, rulings with their reasons, and lines to sign on. */
export function writeRulings(input: ReportInput): Markup {
  return drawPart('Decisions and rulings', [
    drawTable(
      'Decided by the analyst before the fit',
      [{ title: 'About' }, { title: 'Decision' }, { title: 'Reason' }],
      listSetByHand(input).map(({ about, words, reason }) => [about, words, reason]),
      'nothing; picks, strikes and priors are the program’s own.',
    ),
    drawTable(
      'Rulings',
      [{ title: 'When' }, { title: 'By' }, { title: 'Ruling' }, { title: 'Reason' }],
      input.rulings.map((ruling) => [
        formatTime(ruling.decidedAt),
        ruling.signed
          ? `${ruling.analyst}; signed by ${ruling.signed.person}, ${formatTime(ruling.signed.markedAt)}`
          : ruling.analyst,
        ruling.withdrawn ? markup`<s>${ruling.decision}</s>` : markup`<b>${ruling.decision}</b>`,
        markup`${tellReason(ruling)}${tellKept(ruling, input)}`,
      ]),
      'nobody has ruled on this visit yet.',
    ),
    markup`<div class="signatures">${['Measured by', 'Analysed by', 'Engineer'].map(
      (role) => markup`<div><p>${role}</p><p class="line">name and number, signature, date</p></div>`,
    )}</div>`,
  ]);
}

/** A ruling that was taken back, or that was made on another result, must not pass for one on this. */
function tellReason({ reason, withdrawn, isOnThisResult }: ReportRuling): Markup | string {
  if (withdrawn) {
    const why = withdrawn.reason === undefined ? '' : `: ${withdrawn.reason}`;
    return markup`${reason} <i>(withdrawn by ${withdrawn.person}, ${formatTime(withdrawn.markedAt)}${why})</i>`;
  }
  return isOnThisResult ? reason : markup`${reason} <i>(on an earlier result)</i>`;
}
