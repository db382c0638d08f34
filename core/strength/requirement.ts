import { InputError } from '../errors.ts';
import { CLASS_LOAD_BELOW_TIP_M, findPoleClass, type Lognormal } from '../wood/index.ts';
import { chanceBelow } from './lognormalEstimate.ts';

/** At what share of its required strength a code has a pole replaced or restored. */
export type StrengthLossRule = { readonly factor: number; readonly source: string };

/** The rule in use unless the line's owner sets another. */
export const TWO_THIRDS_RULE: StrengthLossRule = {
  factor: 2 / 3,
  source:
    'Replace or restore at two thirds of the required strength: National Electrical Safety Code (from memory); ' +
    'the same share in California General Order 64-A, rule 44.2 (read). Check the code and grade that apply to the line.',
};

/** For a moment of the line's own: it is the least that is allowed, unless the visit says otherwise. */
export const NO_RULE: StrengthLossRule = {
  factor: 1,
  source: 'No strength-loss rule is applied to a moment of your own; requirement.rule of the visit sets one.',
};

/** The groundline moment that is asked of a pole. */
export type RequiredMoment = { readonly groundlineMomentNm: number; readonly source: string };

/** The required moment, the rule's threshold, and the chances that a capacity is below them. */
export type Requirement = RequiredMoment & {
  /** Chance that the capacity is below `groundlineMomentNm`; null without a capacity. */
  readonly chanceBelow: number | null;
  readonly ruleFactor: number;
  /** `groundlineMomentNm` times `ruleFactor`. */
  readonly thresholdMomentNm: number;
  readonly chanceBelowThreshold: number | null;
  readonly ruleSource: string;
};

/**
 * Computes the groundline moment of a pole's class: class load x (length - setting depth - 0.61 m).
 * It is what the class stands for, not what the line's loads ask. New poles of a class meet it on average, so that
 * a chance of one half to be below it is nothing odd in a new pole; in service the rule's threshold is what counts.
 * @param lengthM - whole length, butt to tip
 * @param settingDepthM - butt below ground line
 * @throws InputError `class.unknown`; `requirement.depth` where no arm is left above ground
 */
export function requirementFromClass(pole: {
  readonly classCode: string;
  readonly lengthM: number;
  readonly settingDepthM: number;
}): RequiredMoment {
  const { code, loadN, status, source } = findPoleClass(pole.classCode);
  const armM = pole.lengthM - pole.settingDepthM - CLASS_LOAD_BELOW_TIP_M;
  if (!(armM > 0 && pole.settingDepthM >= 0)) {
    throw new InputError(
      'requirement.depth',
      `Setting depth ${pole.settingDepthM} m leaves no load arm on a pole of ${pole.lengthM} m.`,
      'Check pole.lengthM, pole.buttToTagM and measured.tagHeightM.',
    );
  }
  return {
    groundlineMomentNm: loadN * armM,
    source: `Class ${code} load of ${Math.round(loadN)} N (${status}) at ${armM.toFixed(2)} m above ground line. ${source}`,
  };
}

/**
 * Compares a bending capacity with a required moment and with the rule's threshold below it.
 * @param capacity - groundline moment, in N m; null where capacity was withheld
 */
export function compareWithRequirement(
  capacity: Lognormal | null,
  required: RequiredMoment,
  rule: StrengthLossRule,
): Requirement {
  const thresholdMomentNm = required.groundlineMomentNm * rule.factor;
  return {
    groundlineMomentNm: required.groundlineMomentNm,
    source: required.source,
    chanceBelow: capacity && chanceBelow(capacity, required.groundlineMomentNm),
    ruleFactor: rule.factor,
    thresholdMomentNm,
    chanceBelowThreshold: capacity && chanceBelow(capacity, thresholdMomentNm),
    ruleSource: rule.source,
  };
}
