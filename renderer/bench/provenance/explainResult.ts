import type { Assessment, Bench } from '../../types.ts';
import {
  formatChance,
  formatEstimate,
  formatKiloNewtonMetres,
  formatShare,
  formatSignificant,
} from '../../words/index.ts';
import { explainGroundlineGirth, explainSectionModulus } from './explainSection.ts';
import type { Explanation, ResultName } from './explanation.ts';

const PA_PER_GPA = 1e9;
const PA_PER_MPA = 1e6;
const NM_PER_KNM = 1e3;
const NM_PER_MNM = 1e6;
const CM3_PER_M3 = 1e6;
const BEAM =
  'Beam: Timoshenko 1921, Ritz method; docs/physics.md, "Stem" to "From frequencies to stem and root"';

/** How one of the results came about; null where this assessment has none of it. */
export function explainResult(
  name: ResultName,
  assessment: Assessment,
  visit: Bench['visit'],
): Explanation | null {
  const { stem, root, strength, requirement, identifiability } = assessment;
  const stemOrRoot = fromStemAndRoot(name, assessment);
  if (stemOrRoot) return stemOrRoot;
  switch (name) {
    case 'sectionModulus':
      return explainSectionModulus(assessment, visit);
    case 'groundlineGirth':
      return explainGroundlineGirth(assessment, visit);
    case 'softRootChance':
      return root?.softRootChance == null
        ? null
        : {
            title: 'Chance that the root is softer than its soil explains',
            value: formatChance(root.softRootChance),
            formula: 'P(k_θ below what one pole in ten of this soil and depth has)',
            inputs: [
              [
                'k_θ',
                formatEstimate(root.rotationalStiffnessNmPerRad, 'MN·m/rad', NM_PER_MNM),
                'rotationalStiffness',
              ],
              [
                'expected k_θ',
                root.expectedRotationalStiffnessNmPerRad
                  ? formatEstimate(root.expectedRotationalStiffnessNmPerRad, 'MN·m/rad', NM_PER_MNM)
                  : 'unknown',
                'expectedStiffness',
              ],
            ],
            source: 'Ours; docs/physics.md, "Soft root"',
          };
    case 'narrowing':
      return (
        identifiability && {
          title: 'How far the recordings narrowed the usual range',
          value: `stem by ${formatShare(identifiability.stem)}, root by ${formatShare(identifiability.root)}`,
          formula: '1 − width after / width before, of ln E and of ln k_θ',
          inputs: stem
            ? [
                ['E before', formatEstimate(stem.priorModulusPa, 'GPa', PA_PER_GPA)],
                ['E after', formatEstimate(stem.modulusPa, 'GPa', PA_PER_GPA), 'modulus'],
              ]
            : [],
          source: 'Ours; docs/physics.md, "Told by the data"',
        }
      );
    case 'rupture':
      return (
        strength && {
          title: 'Modulus of rupture',
          value: formatEstimate(strength.modulusOfRupturePa, 'MPa', PA_PER_MPA),
          formula: 'by the relation of the calibration, from the stem’s modulus E',
          inputs: [
            ['calibration', strength.calibration],
            ['E', stem ? formatEstimate(stem.modulusPa, 'GPa', PA_PER_GPA) : 'none', 'modulus'],
            ...(strength.because ?? []).map((words, i) => [`moved by (${i + 1})`, words] as const),
          ],
          source: 'The calibration’s own tests or handbook; docs/physics.md, "Strength and requirement"',
        }
      );
    case 'capacity':
      return (
        strength && {
          title: 'Bending capacity at ground line',
          value: formatEstimate(strength.groundlineMomentNm, 'kN·m', NM_PER_KNM),
          formula: 'modulus of rupture × section modulus',
          inputs: [
            ['modulus of rupture', formatEstimate(strength.modulusOfRupturePa, 'MPa', PA_PER_MPA), 'rupture'],
            [
              'section modulus',
              `${formatSignificant(strength.sectionModulusM3 * CM3_PER_M3)} cm³`,
              'sectionModulus',
            ],
            ['holds for', strength.assumes],
          ],
          source: 'Bending of beams (textbook); docs/physics.md, "Strength and requirement"',
        }
      );
    case 'lowerFive':
      return (
        strength && {
          title: 'Lower 5 % exclusion value',
          value: formatKiloNewtonMetres(strength.lower5PercentNm),
          formula: 'the capacity that one pole in twenty like this would not reach',
          inputs: [['capacity', formatEstimate(strength.groundlineMomentNm, 'kN·m', NM_PER_KNM), 'capacity']],
          source: 'Quantile of the predicted capacity',
        }
      );
    case 'requirement':
      return (
        requirement && {
          title: 'Required moment at ground line',
          value: formatKiloNewtonMetres(requirement.groundlineMomentNm),
          formula: requirement.items
            ? 'sum of each load × its arm × its factor'
            : 'a number, as the source says',
          inputs: (requirement.items ?? []).map(
            ({ name: load, loadN, armM, factor, requiredMomentNm }) =>
              [
                load,
                `${formatSignificant(loadN / 1e3)} kN × ${formatSignificant(armM)} m × ${formatSignificant(factor)} = ${formatKiloNewtonMetres(requiredMomentNm)}`,
              ] as const,
          ),
          source: requirement.source,
        }
      );
    case 'threshold':
      return (
        requirement && {
          title: 'Threshold in service',
          value: formatKiloNewtonMetres(requirement.thresholdMomentNm),
          formula: 'requirement × factor of the rule',
          inputs: [
            ['requirement', formatKiloNewtonMetres(requirement.groundlineMomentNm), 'requirement'],
            ['factor', formatSignificant(requirement.ruleFactor)],
          ],
          source: requirement.ruleSource,
        }
      );
    case 'chanceBelow':
      return (
        requirement &&
        explainChance(assessment, 'requirement', requirement.groundlineMomentNm, requirement.chanceBelow)
      );
    case 'chanceBelowThreshold':
      return (
        requirement &&
        explainChance(
          assessment,
          'threshold',
          requirement.thresholdMomentNm,
          requirement.chanceBelowThreshold,
        )
      );
    default:
      return null;
  }
}

function explainChance(
  { strength }: Assessment,
  limit: 'requirement' | 'threshold',
  momentNm: number,
  chance: number | null,
): Explanation {
  return {
    title: `Chance that capacity is below the ${limit}`,
    value: formatChance(chance),
    formula: `share of the predicted capacity below the ${limit}`,
    inputs: [
      [limit, formatKiloNewtonMetres(momentNm), limit],
      [
        'capacity',
        strength ? formatEstimate(strength.groundlineMomentNm, 'kN·m', NM_PER_KNM) : 'none',
        'capacity',
      ],
    ],
    source: 'Predictive distribution of the calibration; docs/physics.md, "Strength and requirement"',
  };
}

function fromStemAndRoot(name: ResultName, { stem, root, modes, priors }: Assessment): Explanation | null {
  const picks = modes.map(
    ({ plane, number, frequencyHz }) =>
      [`f${number}, plane ${plane + 1}`, `${formatSignificant(frequencyHz.value, 4)} Hz`] as const,
  );
  if (name === 'modulus' && stem) {
    const prior = priors.find((p) => p.setBy === 'options.priors.modulusPa');
    return {
      title: 'Modulus of elasticity of the stem, E',
      value: formatEstimate(stem.modulusPa, 'GPa', PA_PER_GPA),
      formula: 'median of p(E, k_θ | picks) ∝ p(E) p(k_θ) p(ln f | E, k_θ), over all root models',
      inputs: [...picks, ['E before recording', formatEstimate(stem.priorModulusPa, 'GPa', PA_PER_GPA)]],
      source: `${BEAM}. Prior: ${prior?.source ?? 'see Model and priors'}`,
    };
  }
  if (!root) return null;
  if (name === 'rotationalStiffness') {
    return {
      title: 'Rotational stiffness of the root, k_θ',
      value: formatEstimate(root.rotationalStiffnessNmPerRad, 'MN·m/rad', NM_PER_MNM),
      formula: 'median of p(E, k_θ | picks), over all root models',
      inputs: [...picks, ['root model', root.chosenBecause]],
      source: BEAM,
    };
  }
  if (name === 'fixity') {
    return {
      title: 'Fixity of the root',
      value: formatEstimate(root.fixity, ''),
      formula: 'k_θ L / (E I at ground line), L the length above ground',
      inputs: [
        [
          'k_θ',
          formatEstimate(root.rotationalStiffnessNmPerRad, 'MN·m/rad', NM_PER_MNM),
          'rotationalStiffness',
        ],
        ['E', stem ? formatEstimate(stem.modulusPa, 'GPa', PA_PER_GPA) : 'none', 'modulus'],
        ['mapped to 0 … 1', formatEstimate(root.fixityMapped, '')],
      ],
      source: BEAM,
    };
  }
  if (name === 'expectedStiffness' && root.expectedRotationalStiffnessNmPerRad) {
    return {
      title: 'Rotational stiffness that soil and depth lead to expect',
      value: formatEstimate(root.expectedRotationalStiffnessNmPerRad, 'MN·m/rad', NM_PER_MNM),
      formula: 'the butt in its bed of springs, before any recording',
      inputs: root.settingDepthM
        ? [['setting depth', formatEstimate(root.settingDepthM, 'm'), 'settingDepth']]
        : [],
      source: 'Winkler 1867; Hetényi 1946; docs/physics.md, "Root"',
    };
  }
  if (name === 'settingDepth' && root.settingDepthM) {
    const prior = priors.find((p) => p.setBy === 'options.priors.settingDepthM');
    return {
      title: 'Setting depth',
      value: formatEstimate(root.settingDepthM, 'm'),
      formula:
        'distance from butt to tag − height of the tag; 10 % of the length + 0.6 m where these are not known',
      inputs: [],
      source: prior?.source ?? 'visit file',
    };
  }
  return null;
}
