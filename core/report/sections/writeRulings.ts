import { type PickDecision, type PriorDecision, sortDecisions } from '../../decisions.ts';
import { formatQuantity, formatTime, UNITS } from '../../formatNumbers.ts';
import { drawPart, drawTable } from '../blocks.ts';
import { type Markup, markup } from '../markup.ts';
import { planeSymbol } from '../plots/planeMark.ts';
import type { ReportInput, ReportRuling } from '../reportInput.ts';
import { tellKept } from './tellKept.ts';

const DIGITS_OF_FREQUENCY = 4;

/** What people decided: picks of the analyst, rulings with their reasons, and lines to sign on. */
export function writeRulings(input: ReportInput): Markup {
  const { decisions, rulings } = input;
  const { picks, refusals, strikes, priors } = sortDecisions(decisions);
  return drawPart('Decisions and rulings', [
    drawTable(
      'Decided by the analyst before the fit',
      [{ title: 'About' }, { title: 'Decision' }, { title: 'Reason' }],
      [
        ...picks.map((pick) => [
          markup`${planeSymbol(pick.plane)} plane ${pick.plane + 1}, mode ${pick.number}`,
          tellPick(pick),
          '',
        ]),
        ...refusals.map(({ plane, frequencyHz }) => [
          markup`${planeSymbol(plane)} plane ${plane + 1}`,
          `peak at ${formatQuantity(frequencyHz, UNITS.hertz, DIGITS_OF_FREQUENCY)} refused`,
          '',
        ]),
        ...strikes.map(({ recording, strike, use, reason }) => [
          `${recording}, strike ${strike + 1}`,
          use ? 'used, whatever its checks say' : 'left out',
          reason,
        ]),
        ...priors.map(({ prior, reason }) => [`prior ${prior.name}`, tellPrior(prior), reason]),
      ],
      'nothing; picks, strikes and priors are the program’s own.',
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
        markup`${tellReason(ruling)}${tellKept(ruling, input)}`,
      ]),
      'nobody has ruled on this visit yet.',
    ),
    markup`<div class="signatures">${['Measured by', 'Analysed by', 'Engineer'].map(
      (role) => markup`<div><p>${role}</p><p class="line">name and number, signature, date</p></div>`,
    )}</div>`,
  ]);
}

function tellPrior(prior: PriorDecision['prior']): string {
  if (prior.name === 'rootModels') {
    return `shares of bedded ${prior.bedded}, coupled ${prior.coupled}, spring ${prior.spring}`;
  }
  return 'logSd' in prior
    ? `median ${prior.median}, standard deviation of ln ${prior.logSd}`
    : `median ${prior.median}, standard deviation ${prior.sd}`;
}

function tellPick({ frequencyHz }: PickDecision): string {
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
