import type { Assessment, AssessmentFailure } from '../assessment.ts';
import type { RegisterRow } from './contract.ts';

/** What the register and the table of the command line show of a result. */
export type ResultSummary = Pick<
  RegisterRow,
  | 'verdict'
  | 'frequenciesHz'
  | 'modulusPa'
  | 'fixity'
  | 'identifiability'
  | 'capacityNm'
  | 'requirementNm'
  | 'chanceBelow'
  | 'findings'
>;

const SHOWN_MODES = [1, 2, 3];

export const NOT_ASSESSED: ResultSummary = {
  verdict: 'not assessed',
  frequenciesHz: SHOWN_MODES.map(() => null),
  modulusPa: null,
  fixity: null,
  identifiability: null,
  capacityNm: null,
  requirementNm: null,
  chanceBelow: null,
  findings: [],
};

/** Condenses a result to its row: medians, and frequencies as means over the planes. */
export function summarise(result: Assessment | AssessmentFailure): ResultSummary {
  if ('error' in result) {
    return {
      ...NOT_ASSESSED,
      verdict: 'failed',
      findings: [{ id: result.error.code, text: result.error.message }],
    };
  }
  const capacity = result.strength?.groundlineMomentNm;
  return {
    verdict: result.verdict,
    frequenciesHz: SHOWN_MODES.map((number) => meanFrequencyHz(result, number)),
    modulusPa: result.stem?.modulusPa.value ?? null,
    fixity: result.root?.fixity.value ?? null,
    identifiability: result.identifiability?.verdict ?? null,
    capacityNm: capacity ? { value: capacity.value, low: capacity.low, high: capacity.high } : null,
    requirementNm: result.requirement?.groundlineMomentNm ?? null,
    chanceBelow: result.requirement?.chanceBelow ?? null,
    findings: result.findings,
  };
}

function meanFrequencyHz(result: Assessment, number: number): number | null {
  const found = result.modes.filter((mode) => mode.number === number);
  if (found.length === 0) return null;
  return found.reduce((sum, mode) => sum + mode.frequencyHz.value, 0) / found.length;
}
