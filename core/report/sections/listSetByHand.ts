import { type PriorDecision, type StrikeDecision, sortDecisions } from '../../decisions.ts';
import { displayUnitOf, formatQuantity, formatRange, formatShare, UNITS } from '../../formatNumbers.ts';
import { PRIOR_WORDS } from '../../priorWords.ts';
import { rangeOfPrior } from '../../rangeOfPrior.ts';
import { type Markup, markup } from '../markup.ts';
import { planeSymbol } from '../plots/planeMark.ts';
import { isConcluded, type ReportInput } from '../reportInput.ts';

const DIGITS_OF_FREQUENCY = 4;

/** What an analyst set before the fit; picks ask for no reason. */
type SetByHand = { readonly about: Markup | string; readonly words: string; readonly reason: string };

type RangedName = Exclude<PriorDecision['prior']['name'], 'rootModels'>;

/** Every decision before the fit in words, and what the visit file sets: what it is about, what was set, and why. */
export function listSetByHand(input: ReportInput): SetByHand[] {
  const { picks, refusals, strikes, priors } = sortDecisions(input.decisions);
  const decided = new Set<string>(priors.map(({ prior }) => prior.name));
  const filed = Object.entries(input.visit.options.priors ?? {}).filter(([name]) => !decided.has(name));
  return [
    ...filed.map(([name, prior]) => ({
      ...tellPrior({ name, ...prior } as PriorDecision['prior'], input),
      reason: 'set in the visit file',
    })),
    ...priors.map(({ prior, reason }) => ({ ...tellPrior(prior, input), reason })),
    ...strikes.map(tellStrike),
    ...picks.map(({ plane, number, frequencyHz }) => ({
      about: markup`${planeSymbol(plane)} plane ${plane + 1}, mode ${number}`,
      words:
        frequencyHz === null ? 'no mode of this number in this plane' : `at ${tellFrequency(frequencyHz)}`,
      reason: '',
    })),
    ...refusals.map(({ plane, frequencyHz }) => ({
      about: markup`${planeSymbol(plane)} plane ${plane + 1}`,
      words: `peak at ${tellFrequency(frequencyHz)} refused`,
      reason: '',
    })),
  ];
}

function tellPrior(prior: PriorDecision['prior'], input: ReportInput): Omit<SetByHand, 'reason'> {
  if (prior.name === 'rootModels') {
    const { name: _name, ...shares } = prior;
    const sum = Object.values(shares).reduce((all, share) => all + share, 0);
    return {
      about: 'root models',
      words: Object.entries(shares)
        .map(([model, share]) => `${model} ${formatShare(share / sum)}`)
        .join(', '),
    };
  }
  const listed = isConcluded(input) ? input.assessment.priors : [];
  // a failed result lists none
  const unit = displayUnitOf(
    listed.find(({ setBy }) => setBy === `options.priors.${prior.name}`)?.unit ?? '',
  );
  const measured = measuredInstead(prior.name, input);
  const instead = measured === null ? 'the usual' : `the measured ${formatQuantity(measured, unit)}`;
  return {
    about: PRIOR_WORDS[prior.name],
    words: `${formatRange(rangeOfPrior(prior), unit)} in place of ${instead}`,
  };
}

/** What counts where the prior is not set by hand, in SI; null where that was not measured. */
function measuredInstead(name: RangedName, { visit: { pole, measured } }: ReportInput): number | null {
  switch (name) {
    case 'densityKgPerM3':
      return measured.densityKgPerM3 ?? null;
    case 'tipGirthM':
      return measured.topCircumferenceM ?? null;
    case 'settingDepthM':
      return pole.buttToTagM == null || measured.tagHeightM == null
        ? null
        : pole.buttToTagM - measured.tagHeightM;
    case 'modulusPa':
    case 'soilModulus':
    case 'rotationalStiffnessNmPerRad':
      return null;
  }
}

function tellStrike({ recording, strike, use, reason }: StrikeDecision): SetByHand {
  return {
    about: `${recording}, strike ${strike + 1}`,
    words: use ? 'used, whatever its checks say' : 'left out',
    reason,
  };
}

function tellFrequency(frequencyHz: number): string {
  return formatQuantity(frequencyHz, UNITS.hertz, DIGITS_OF_FREQUENCY);
}
