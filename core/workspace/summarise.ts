import type { Assessment, AssessmentFailure, Estimate } from '../assessment.ts';
import { collectFindings } from '../collectFindings.ts';
import { ownPriorOf } from '../ownPriorOf.ts';
import type { RegisterRow } from './contract.ts';
import { type KeptMode, keepModes } from './keepModes.ts';

type Interval = NonNullable<RegisterRow['capacityNm']>;

/** What the register and the table of the command line show of a result, and what later visits are compared with. */
export type ResultSummary = Pick<
  RegisterRow,
  | 'verdict'
  | 'frequenciesHz'
  | 'modulusPa'
  | 'modulusIntervalPa'
  | 'fixity'
  | 'fixityInterval'
  | 'identifiability'
  | 'capacityNm'
  | 'lower5PercentNm'
  | 'calibration'
  | 'program'
  | 'requirementNm'
  | 'chanceBelow'
  | 'thresholdNm'
  | 'chanceBelowThreshold'
  | 'strikes'
  | 'findings'
> & {
  /** Who withholds the result; the chain where an earlier program did not say. */
  readonly withheldBy: 'chain' | 'calibration' | null;
  /** The result's own sentences on that. */
  readonly withheldBecause: string | null;
  /** What an analyst set or overruled, in words. */
  readonly setByHand: readonly string[];
  /** What frequencies of other visits are compared with. */
  readonly modes: readonly KeptMode[];
};

const SHOWN_MODES = [1, 2, 3];

export const NOT_ASSESSED: ResultSummary = {
  verdict: 'not assessed',
  frequenciesHz: SHOWN_MODES.map(() => null),
  modulusPa: null,
  fixity: null,
  identifiability: null,
  capacityNm: null,
  lower5PercentNm: null,
  calibration: null,
  program: null,
  requirementNm: null,
  chanceBelow: null,
  thresholdNm: null,
  chanceBelowThreshold: null,
  strikes: { found: 0, usable: 0, faults: [] },
  findings: [],
  modulusIntervalPa: null,
  fixityInterval: null,
  withheldBy: null,
  withheldBecause: null,
  setByHand: [],
  modes: [],
};

/** Condenses a result to its row: medians, and frequencies as means over the planes; the modes of each plane beside them. */
export function summarise(result: Assessment | AssessmentFailure): ResultSummary {
  if ('error' in result) {
    return {
      ...NOT_ASSESSED,
      verdict: 'failed',
      findings: [{ id: result.error.code, text: result.error.message }],
    };
  }
  const { stem, root, strength, requirement } = result;
  const withheldBy = result.verdict === 'withheld' ? (result.withheldBy ?? 'chain') : null;
  return {
    verdict: result.verdict,
    frequenciesHz: SHOWN_MODES.map((number) => meanFrequencyHz(result, number)),
    modulusPa: stem?.modulusPa.value ?? null,
    fixity: root?.fixity.value ?? null,
    identifiability: result.identifiability?.verdict ?? null,
    capacityNm: strength && intervalOf(strength.groundlineMomentNm),
    lower5PercentNm: strength?.lower5PercentNm ?? null,
    calibration: strength?.calibration ?? null,
    program: result.provenance.program,
    requirementNm: requirement?.groundlineMomentNm ?? null,
    chanceBelow: requirement?.chanceBelow ?? null,
    thresholdNm: requirement?.thresholdMomentNm ?? null,
    chanceBelowThreshold: requirement?.chanceBelowThreshold ?? null,
    strikes: countStrikes(result),
    findings: collectFindings(result).map(({ id, text }) => ({ id, text })),
    modulusIntervalPa: stem && intervalOf(stem.modulusPa),
    fixityInterval: root && intervalOf(root.fixity),
    withheldBy,
    withheldBecause: result.withheldBecause,
    setByHand: listSetByHand(result),
    modes: keepModes(result, withheldBy),
  };
}

/** Whether a stored summary has all that this program reads; earlier programs kept less. */
export function isWholeSummary(stored: Partial<ResultSummary>): stored is ResultSummary {
  return (
    stored.strikes !== undefined &&
    stored.modulusIntervalPa !== undefined &&
    stored.program !== undefined &&
    stored.withheldBy !== undefined &&
    stored.withheldBecause !== undefined &&
    stored.setByHand !== undefined &&
    stored.modes !== undefined
  );
}

function intervalOf({ value, low, high }: Estimate): Interval {
  return { value, low, high };
}

function countStrikes({ strikes }: Assessment): ResultSummary['strikes'] {
  const faults = strikes.flatMap(({ checks }) =>
    checks.filter((check) => check.verdict !== 'use').map((check) => check.id),
  );
  return {
    found: strikes.length,
    usable: strikes.filter(({ verdict, overruled }) => overruled?.use ?? verdict !== 'repeat').length,
    faults: [...new Set(faults)],
  };
}

function listSetByHand({ priors, findings }: Assessment): string[] {
  const isFound = (id: string) => findings.some((finding) => finding.id === id);
  const ownPriors = priors.flatMap((prior) => {
    const own = ownPriorOf(prior);
    return own === null ? [] : [own === 'rootModels' ? 'root models' : prior.name];
  });
  return [
    ...new Set(ownPriors),
    ...(isFound('strikes-overruled') ? ['strikes'] : []),
    ...(isFound('own-picks') ? ['picks'] : []),
  ];
}

function meanFrequencyHz(result: Assessment, number: number): number | null {
  const found = result.modes.filter((mode) => mode.number === number);
  if (found.length === 0) return null;
  return found.reduce((sum, mode) => sum + mode.frequencyHz.value, 0) / found.length;
}
