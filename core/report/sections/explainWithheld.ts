import { collectAdvice } from '../../collectAdvice.ts';
import { drawList } from '../blocks.ts';
import { type Markup, markup } from '../markup.ts';
import { isConcluded, type ReportInput } from '../reportInput.ts';

/** Says plainly what cannot be told about the pole, why, and what to do next. */
export function explainWithheld(input: ReportInput): Markup {
  const steps = listSteps(input);
  return markup`<p><b>No bending capacity is given.</b> ${whyNothing(input)}</p><div class="columns"><div><h3>What cannot be told</h3>${drawList(listUntold(input))}</div><div><h3>What to do next</h3>${drawList(steps)}</div></div><p>That the program cannot tell says nothing for the pole and nothing against it: treat its strength as unknown.</p>`;
}

function whyNothing(input: ReportInput): string {
  if (!isConcluded(input)) return 'error' in input.assessment ? input.assessment.error.message : '';
  return input.assessment.withheldBecause ?? 'The chain gave no reason.';
}

function listUntold(input: ReportInput): string[] {
  const untold = ['bending capacity at the ground line, and the chance that it is below the requirement'];
  if (!isConcluded(input))
    return [...untold, 'stiffness of the stem', 'fixity of the root', 'natural frequencies'];
  const { modes, stem, root, identifiability } = input.assessment;
  if (modes.length === 0) untold.push('natural frequencies');
  if (stem === null) untold.push('stiffness of the stem');
  if (root === null) untold.push('fixity of the root');
  if (identifiability !== null && identifiability.verdict !== 'separated') {
    untold.push(`stem and root apart from each other: ${identifiability.verdict}`);
  }
  return untold;
}

function listSteps(input: ReportInput): string[] {
  const steps = isConcluded(input)
    ? collectAdvice(input.assessment)
    : ['error' in input.assessment ? input.assessment.error.hint : ''];
  const given = steps.filter(Boolean);
  return [
    ...given,
    ...(given.length === 0 ? ['Record the pole again, with several blows by hammer and by hand.'] : []),
    'Until then inspect by other means: sound, bore, excavate.',
  ];
}
