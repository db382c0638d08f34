import type { VisitFile } from '../../recording/index.ts';
import { isPoleClass } from '../../wood/index.ts';
import type { RequiredMoment } from './requiredMoment.ts';
import { requirementFromClass } from './requirementFromClass.ts';
import { requirementFromLoads } from './requirementFromLoads.ts';
import { NO_RULE, type StrengthLossRule, TWO_THIRDS_RULE } from './strengthLossRules.ts';

/** What of the pole's geometry a requirement follows from. */
export type PoleGeometry = {
  readonly settingDepthM: number;
  readonly groundlineGirthM: number;
  readonly tipGirthM: number;
};

/**
 * Finds what is asked of the pole of a visit, and the rule that goes with it: the visit's own loads or moment under the
 * rule that it states, or none; else the class load under the rule of two thirds.
 * @param geometry - null where it is not known: then only a moment given as a number can be told
 * @returns `required` null where nothing can be told: the visit states nothing and the pole's class is not known
 * @throws InputError as {@link requirementFromLoads} and {@link requirementFromClass}
 */
export function findRequirement(
  { requirement, pole }: VisitFile,
  geometry: PoleGeometry | null,
): { required: RequiredMoment | null; rule: StrengthLossRule } {
  if (requirement && 'groundlineMomentNm' in requirement) {
    const { groundlineMomentNm, source, rule } = requirement;
    return { required: { groundlineMomentNm, source }, rule: rule ?? NO_RULE };
  }
  if (requirement) {
    const { loads } = requirement;
    const required =
      geometry &&
      requirementFromLoads(loads, {
        tipHeightM: pole.lengthM - geometry.settingDepthM,
        groundlineDiameterM: geometry.groundlineGirthM / Math.PI,
        tipDiameterM: geometry.tipGirthM / Math.PI,
      });
    return { required, rule: loads.rule ?? NO_RULE };
  }
  const { classCode, lengthM, species } = pole;
  const required =
    classCode == null || !isPoleClass(classCode) || geometry === null
      ? null
      : requirementFromClass({ classCode, lengthM, settingDepthM: geometry.settingDepthM, species });
  return { required, rule: TWO_THIRDS_RULE };
}
