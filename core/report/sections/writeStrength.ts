import type { Assessment } from '../../assessment.ts';
import { formatChance, formatEstimate, formatQuantity, UNITS } from '../../formatNumbers.ts';
import { drawList, drawPart, drawRecord, drawTable } from '../blocks.ts';
import { type Markup, markup } from '../markup.ts';
import type { ConcludedInput, ReportCalibration } from '../reportInput.ts';

const NEWTON_PER_KILONEWTON = 1000;

/** Strength with the calibration behind it, and the requirement with its source and rule. */
export function writeStrength({ assessment, calibration }: ConcludedInput): Markup {
  const { strength, requirement } = assessment;
  return drawPart('Strength and requirement', [
    markup`<div class="columns">${tellStrength(strength)}${tellRequirement(requirement)}</div>`,
    requirement !== null &&
      markup`<h3>Sources of the requirement</h3>${drawList([requirement.source, markup`Rule: ${requirement.ruleSource}`])}`,
    requirement?.items !== undefined && tellLoads(requirement.items),
    strength?.because !== undefined &&
      strength.because.length > 0 &&
      markup`<h3>What moved the estimate</h3>${drawList(strength.because)}`,
    strength !== null && calibration !== null && tellCalibration(calibration),
  ]);
}

function tellStrength(strength: Assessment['strength']): Markup {
  if (strength === null) {
    return markup`<p class="empty"><b>Strength:</b> none is given; the first page says why.</p>`;
  }
  return drawRecord('Strength', [
    ['Calibration', strength.calibration],
    ['Modulus of rupture', formatEstimate(strength.modulusOfRupturePa, UNITS.megapascal)],
    ['Section modulus at the ground line', formatQuantity(strength.sectionModulusM3, UNITS.litre)],
    ['Capacity at the ground line', formatEstimate(strength.groundlineMomentNm, UNITS.kilonewtonMetre)],
    ['Assumes', strength.assumes],
    ['Interval at', formatChance(strength.groundlineMomentNm.level)],
    ['Lower 5 % value', formatQuantity(strength.lower5PercentNm, UNITS.kilonewtonMetre)],
    ...(strength.tolerance
      ? [
          [
            `Reached by ${formatChance(strength.tolerance.content)} of such poles, at ${formatChance(strength.tolerance.confidence)} confidence`,
            formatQuantity(strength.tolerance.groundlineMomentNm, UNITS.kilonewtonMetre),
          ] as const,
        ]
      : []),
  ]);
}

function tellRequirement(requirement: Assessment['requirement']): Markup {
  if (requirement === null) {
    return markup`<p class="empty"><b>Requirement:</b> none is known: the visit states none, and the class of the pole gives none.</p>`;
  }
  return drawRecord('Requirement', [
    ['Moment at the ground line', formatQuantity(requirement.groundlineMomentNm, UNITS.kilonewtonMetre)],
    ['Chance that the capacity is below', formatChance(requirement.chanceBelow)],
    ['Factor of the rule', formatQuantity(requirement.ruleFactor, UNITS.none)],
    ['Threshold of the rule', formatQuantity(requirement.thresholdMomentNm, UNITS.kilonewtonMetre)],
    ['Chance that the capacity is below the threshold', formatChance(requirement.chanceBelowThreshold)],
  ]);
}

function tellLoads(items: NonNullable<NonNullable<Assessment['requirement']>['items']>): Markup {
  return drawTable(
    'Loads behind the requirement',
    [
      { title: 'Load' },
      { title: 'Force, kN', isNumber: true },
      { title: 'Arm, m', isNumber: true },
      { title: 'Moment, kN·m', isNumber: true },
      { title: 'Factor', isNumber: true },
      { title: 'Required, kN·m', isNumber: true },
    ],
    items.map(({ name, loadN, armM, momentNm, factor, requiredMomentNm }) => [
      name,
      formatQuantity(loadN / NEWTON_PER_KILONEWTON, UNITS.none),
      formatQuantity(armM, UNITS.none),
      formatQuantity(momentNm / NEWTON_PER_KILONEWTON, UNITS.none),
      formatQuantity(factor, UNITS.none),
      formatQuantity(requiredMomentNm / NEWTON_PER_KILONEWTON, UNITS.none),
    ]),
    'none',
  );
}

function tellCalibration({ title, sources }: ReportCalibration): Markup {
  return markup`<h3>Sources of the calibration</h3><p>${title}</p>${drawList(sources)}`;
}
