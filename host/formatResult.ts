import type { Assessment, AssessmentFailure, Estimate } from '../core/assessment.ts';
import { collectFindings } from '../core/collectFindings.ts';
import { formatChance, formatEstimate, formatQuantity, UNITS } from '../core/formatNumbers.ts';
import { nameFinding } from '../core/nameFinding.ts';
import { namePlane } from '../core/namePlane.ts';

const LABEL_WIDTH = 19;

type Finding = Assessment['findings'][number];

/**
 * Writes one result for a person to read, cautions apart.
 * @param compared - what is told of the visit beside the others of its workspace @default none
 */
export function formatResult(
  result: Assessment | AssessmentFailure,
  compared: readonly Finding[] = [],
): string {
  const title = `${result.poleId ?? 'unknown pole'}, ${result.visit}: ${result.verdict}`;
  const lines = 'error' in result ? describeError(result) : describeAssessment(result, compared);
  return [title, ...lines].join('\n');
}

/** Writes the cautions that hold for every result. */
export function formatCautions(cautions: readonly string[]): string {
  return ['Cautions', ...cautions.map((caution) => `  - ${caution}`)].join('\n');
}

function describeError({ error }: AssessmentFailure): string[] {
  return [formatLine('Why', error.message), formatLine('What to do', error.hint)];
}

function describeAssessment(result: Assessment, compared: readonly Finding[]): string[] {
  const { stem, root, identifiability, strength, requirement } = result;
  return [
    result.withheldBecause && formatLine('Withheld', result.withheldBecause),
    formatLine('Strikes', describeStrikes(result)),
    ...result.strikes.flatMap((strike) =>
      strike.checks
        .filter((check) => check.verdict !== 'use')
        .map((check) =>
          formatLine(
            '',
            `${strike.recording} at ${strike.startS.toFixed(2)} s: ${check.text} ${check.advice}`,
          ),
        ),
    ),
    formatLine('Modes', describeModes(result)),
    stem &&
      formatLine('Stem', `E ${formatEstimate(stem.modulusPa, UNITS.gigapascal)}${atLevel(stem.modulusPa)}`),
    root &&
      formatLine(
        'Root',
        `${root.model}, fixity ${formatEstimate(root.fixity, UNITS.none)}${atLevel(root.fixity)}, ` +
          `stiffness ${formatEstimate(root.rotationalStiffnessNmPerRad, UNITS.meganewtonMetrePerRadian)}`,
      ),
    root?.softRootChance != null &&
      formatLine(
        'Soft root',
        `chance ${formatChance(root.softRootChance)}; a low one does not speak for the section at ground line`,
      ),
    identifiability && formatLine('Stem and root', `${identifiability.verdict}. ${identifiability.advice}`),
    ...result.recordingWarnings.map(({ text }, i) => formatLine(i === 0 ? 'Files' : '', text)),
    strength &&
      formatLine(
        'Capacity if sound',
        `${formatEstimate(strength.groundlineMomentNm, UNITS.kilonewtonMetre)} at ground line${atLevel(strength.groundlineMomentNm)}, ` +
          `lower 5 % ${formatQuantity(strength.lower5PercentNm, UNITS.kilonewtonMetre)}`,
      ),
    strength &&
      formatLine(
        '',
        `MOR ${formatEstimate(strength.modulusOfRupturePa, UNITS.megapascal)} by calibration ${strength.calibration}`,
      ),
    strength && formatLine('', `Assumes: ${strength.assumes}`),
    requirement &&
      formatLine(
        'Requirement',
        `${formatQuantity(requirement.groundlineMomentNm, UNITS.kilonewtonMetre)}, ` +
          `chance that capacity falls short: ${formatChance(requirement.chanceBelow)}. ${requirement.source}`,
      ),
    requirement &&
      formatLine(
        'Threshold',
        `${formatQuantity(requirement.thresholdMomentNm, UNITS.kilonewtonMetre)}, ` +
          `chance of falling short: ${formatChance(requirement.chanceBelowThreshold)}. ${requirement.ruleSource}`,
      ),
    ...collectFindings(result, compared).map((finding, i) =>
      formatLine(i === 0 ? 'Findings' : '', `${nameFinding(finding.id)}: ${finding.text}`),
    ),
    formatLine(
      'Provenance',
      `${result.provenance.program}, inputs ${result.provenance.inputsSha256.slice(0, 16)}`,
    ),
  ].filter((text) => typeof text === 'string');
}

function describeStrikes({ strikes }: Assessment): string {
  const count = (verdict: string) => strikes.filter((strike) => strike.verdict === verdict).length;
  return `${count('use')} to use, ${count('use with care')} to use with care, ${count('repeat')} to repeat`;
}

function describeModes({ modes }: Assessment): string {
  if (modes.length === 0) return 'none';
  const planes = [...new Set(modes.map((mode) => mode.plane))].sort((a, b) => a - b);
  return planes
    .map((plane) => {
      const own = modes.filter((mode) => mode.plane === plane).sort((a, b) => a.number - b.number);
      const picks = own
        .map(({ number, frequencyHz }) => `f${number} ${frequencyHz.value.toFixed(2)}`)
        .join(', ');
      return `${namePlane(plane, own[0]!.azimuthDeg)}: ${picks} Hz`;
    })
    .join('; ');
}

function atLevel({ level }: Estimate): string {
  return ` at ${Math.round(level * 100)} %`;
}

/** Writes one line under a title, with its label in a column of its own. */
export function formatLine(label: string, text: string): string {
  return `  ${label.padEnd(LABEL_WIDTH)}${text.trim()}`;
}
