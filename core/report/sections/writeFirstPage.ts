import type { Assessment } from '../../assessment.ts';
import { CAUTIONS } from '../../cautions.ts';
import { collectFindings } from '../../collectFindings.ts';
import {
  formatChance,
  formatEntered,
  formatEstimate,
  formatNumber,
  formatQuantity,
  formatTime,
  UNITS,
} from '../../formatNumbers.ts';
import { nameFinding } from '../../nameFinding.ts';
import { namePlane } from '../../namePlane.ts';
import { drawList, drawRecord, drawTable, unhyphenate } from '../blocks.ts';
import { type Markup, markup } from '../markup.ts';
import { drawCapacity } from '../plots/drawCapacity.ts';
import { planeSymbol } from '../plots/planeMark.ts';
import { type ConcludedInput, isConcluded, type ReportInput } from '../reportInput.ts';
import { explainWithheld } from './explainWithheld.ts';
import { listSetByHand } from './listSetByHand.ts';
import { tellIdentifiability } from './tellIdentifiability.ts';
import { tellKept } from './tellKept.ts';

/** What a reader who turns no page must know: which pole, what is told or why nothing is, cautions, findings. */
export function writeFirstPage(input: ReportInput): Markup {
  const { assessment, visit } = input;
  const cautions = isConcluded(input) ? input.assessment.cautions : CAUTIONS;
  return markup`<header class="masthead"><p class="kind">Pole report</p><h1>${visit.pole.id}</h1><p class="when">visit of ${visit.measured.date}<br>printed ${formatTime(input.printedAt)}</p></header>
<p class="identity">${describePole(input)}</p>
<div class="result ${assessment.verdict}"><p class="verdict">${assessment.verdict}</p>${isConcluded(input) && input.assessment.verdict === 'assessed' ? tellAssessed(input.assessment) : explainWithheld(input)}</div>
${tellSetByHand(input)}<aside class="cautions"><h2>Before anybody relies on this or climbs</h2>${drawList(cautions)}</aside>
${
  isConcluded(input) && [
    input.assessment.strength !== null &&
      drawCapacity(input.assessment.strength, input.assessment.requirement),
    tellFindings(input),
    input.assessment.verdict === 'assessed' && summarise(input.assessment),
  ]
}${tellLatestRuling(input)}`;
}

function describePole({ visit }: ReportInput): string {
  const { pole, measured } = visit;
  return [
    `${unhyphenate(pole.species)} pole`,
    pole.classCode ? `class ${pole.classCode}` : 'class not stated',
    `${formatEntered(pole.lengthM, UNITS.metre)} long`,
    pole.setYear ? `set ${pole.setYear}` : 'year of setting not stated',
    `soil: ${unhyphenate(measured.soil)}`,
  ].join(', ');
}

function tellAssessed({ strength, requirement, identifiability }: Assessment): Markup {
  if (strength === null) return markup`<p>The chain ended, but without a capacity.</p>`;
  const capacity = strength.groundlineMomentNm;
  return markup`<p>Bending capacity at the ground line, <b>if the wood there is sound</b>: <b>${formatEstimate(capacity, UNITS.kilonewtonMetre)}</b>, the interval at ${formatChance(capacity.level)}, by calibration ${strength.calibration}. ${
    requirement === null
      ? 'No requirement is known for this pole, so nothing is said about margin.'
      : markup`Required: ${formatQuantity(requirement.groundlineMomentNm, UNITS.kilonewtonMetre)}. Chance that the capacity is below that: <b>${formatChance(requirement.chanceBelow)}</b>; below the threshold of the rule (${formatQuantity(requirement.thresholdMomentNm, UNITS.kilonewtonMetre)}): <b>${formatChance(requirement.chanceBelowThreshold)}</b>.`
  }</p>${requirement !== null && markup`<p class="note">Source of the requirement: ${requirement.source}</p>`}${
    identifiability !== null &&
    identifiability.verdict !== 'separated' &&
    markup`<p><b>${tellIdentifiability(identifiability.verdict)}</b> ${identifiability.advice}</p>`
  }`;
}

/** What was overruled for this result, so that nobody takes it for one on what was measured alone. */
function tellSetByHand(input: ReportInput): Markup | null {
  const set = listSetByHand(input);
  if (set.length === 0) return null;
  const { stored } = input;
  const by = stored && ` (result stored by ${stored.by}, ${formatTime(stored.at)})`;
  return markup`<div class="by-hand"><p><b>Set by hand</b>${by}:</p>${drawList(
    set.map(({ about, words, reason }) => markup`${about}: ${words}${reason && `; reason: ${reason}`}`),
  )}</div>
`;
}

/** Every finding, each kind named once. */
function tellFindings({ assessment, compared }: ConcludedInput): Markup {
  const kinds = Map.groupBy(collectFindings(assessment, compared), (finding) => finding.id);
  return drawTable(
    'Findings',
    [{ title: 'Finding' }, { title: 'What it means' }],
    [...kinds].map(([id, own]) => [
      nameFinding(id),
      own.length === 1 ? own[0]!.text : markup`${own.map(({ text }) => markup`<p>${text}</p>`)}`,
    ]),
    'none beyond the numbers in this report.',
  );
}

function summarise({ modes, stem, root, identifiability }: Assessment): Markup {
  const planes = [...new Set(modes.map((mode) => mode.plane))].sort((a, b) => a - b);
  return markup`<div class="columns">${drawRecord('Stem and root', [
    [
      'Stem, modulus of elasticity',
      stem === null ? 'not told' : formatEstimate(stem.modulusPa, UNITS.gigapascal),
    ],
    ['Root, fixity', root === null ? 'not told' : formatEstimate(root.fixity, UNITS.none)],
    ['Told apart?', identifiability === null ? 'not judged' : identifiability.verdict],
  ])}${drawRecord(
    'Natural frequencies by mode number',
    planes.map((plane) => [
      markup`${planeSymbol(plane)} ${namePlane(plane, modes.find((mode) => mode.plane === plane)!.azimuthDeg)}`,
      modes
        .filter((mode) => mode.plane === plane)
        .map((mode) => `${mode.number}:\u00a0${formatNumber(mode.frequencyHz.value)}\u00a0Hz`)
        .join(', '),
    ]),
  )}</div>`;
}

function tellLatestRuling(input: ReportInput): Markup {
  const latest = input.rulings
    .filter(({ withdrawn }) => withdrawn === null)
    .toSorted((a, b) => a.decidedAt.localeCompare(b.decidedAt))
    .at(-1);
  if (latest === undefined)
    return markup`<p class="empty"><b>Ruling:</b> nobody has ruled on this visit yet.</p>`;
  return markup`<p class="ruling"><b>Latest ruling: ${latest.decision}.</b> ${latest.reason} (${latest.analyst}, ${formatTime(latest.decidedAt)}${!latest.isOnThisResult && ', on an earlier result'})${tellKept(latest, input)}</p>`;
}
