/** At what share of its required strength a code has a pole replaced or restored. */
export type StrengthLossRule = { readonly factor: number; readonly source: string };

const RULE_44_3 =
  'California General Order 95, rule 44.3, revised 2014 (read): replace or reinforce before the safety factor is ' +
  'below two thirds of that of rule 44.1 in grades A and B, one half in grade C, and never below 1.';

/** The rule in use unless the line's owner sets another. */
export const TWO_THIRDS_RULE: StrengthLossRule = {
  factor: 2 / 3,
  source:
    'Replace or restore at two thirds of the required strength: National Electrical Safety Code (from memory); ' +
    `the same share in ${RULE_44_3} Check the code and grade that apply to the line.`,
};

/** For a moment of the line's own: it is the least that is allowed, unless the visit says otherwise. */
export const NO_RULE: StrengthLossRule = {
  factor: 1,
  source: 'No strength-loss rule is applied to a moment of your own; requirement.rule of the visit sets one.',
};

/** Rules to choose from; a visit may state any other with its own source. Check your local code. */
export const STRENGTH_LOSS_RULES: readonly (StrengthLossRule & { readonly name: string })[] = [
  { name: 'two thirds', ...TWO_THIRDS_RULE },
  {
    name: 'one half',
    factor: 1 / 2,
    source: `${RULE_44_3} Check the code and grade that apply to the line.`,
  },
  { name: 'none', factor: 1, source: 'No loss is allowed for: the requirement itself is the threshold.' },
];
