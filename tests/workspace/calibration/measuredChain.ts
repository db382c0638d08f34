import { vi } from 'vitest';
import type { AnalysedVisit, AssessmentOutcome } from '../../../core/assess.ts';
import type { Assessment } from '../../../core/assessment.ts';
import { concludeOnStrength } from '../../../core/concludeOnStrength.ts';
import type { ReadVisit, VisitInput } from '../../../core/readRecordings.ts';
import { RESULT_DIGITS, roundNumbers } from '../../../core/roundNumbers.ts';
import { type Calibration, handbookCalibration } from '../../../core/strength/index.ts';
import { assessment, makeInput } from '../../report/fixture.ts';

/** Poles whose visits are withheld, whatever the calibration. */
export const WITHHELD_POLE = 'MC-WITHHELD';

const FIRST_MODULUS_PA = 8e9;
const STEP_PA = 0.8e9;
const LOG_SD = 0.06;
const PRIOR = { median: 11e9, logSd: 0.2 };

const lognormal = (name: string, median: number, sd: number, unit: string) => ({
  name,
  median,
  low: median * Math.exp(-1.6449 * sd),
  high: median * Math.exp(1.6449 * sd),
  unit,
  source: 'invented',
  spread: { of: 'ln' as const, sd },
});

/** What the visit of a pole is made to find: E of `MC-3` is 8 + 3 x 0.8 GPa, in its mode 1 as well. */
export function modulusOfPole(poleId: string): number {
  return FIRST_MODULUS_PA + STEP_PA * Number(poleId.match(/\d+$/)?.[0] ?? 0);
}

/**
 * Stands in for the slow part of the chain: stem and root as the name of the pole has them, strength by the program's own
 * last step, so that calibrations and profiles have their effect.
 */
export const measuredChain = {
  analyseVisit: vi.fn((input: VisitInput | ReadVisit) => ({ input }) as AnalysedVisit),
  concludeVisit: vi.fn(
    (
      { input }: AnalysedVisit,
      _decisions: unknown,
      calibration: Calibration = handbookCalibration,
    ): AssessmentOutcome => {
      const { result, requiredModulusPa } = conclude(input, calibration);
      return { assessment: result, picture: { ...makeInput().picture!, requiredModulusPa }, fit: null };
    },
  ),
};

function conclude(
  { visit, visitName }: ReadVisit,
  calibration: Calibration,
): { result: Assessment; requiredModulusPa: number | null } {
  const modulusPa = modulusOfPole(visit.pole.id);
  const isWithheld = visit.pole.id === WITHHELD_POLE;
  const reach = Math.exp(1.6449 * LOG_SD);
  const told = roundNumbers(
    {
      verdict: isWithheld ? ('withheld' as const) : ('assessed' as const),
      withheldBecause: isWithheld ? 'No strike was found in the recordings.' : null,
      withheldBy: isWithheld ? ('chain' as const) : null,
      stem: {
        ...assessment.stem!,
        modulusPa: { value: modulusPa, low: modulusPa / reach, high: modulusPa * reach, level: 0.9 },
        lnModulus: { mean: Math.log(modulusPa), sd: LOG_SD },
      },
      root: assessment.root,
      modes: assessment.modes,
      priors: [
        {
          ...lognormal('stem modulus', PRIOR.median, PRIOR.logSd, 'Pa'),
          setBy: 'options.priors.modulusPa',
          isGiven: visit.options.priors?.modulusPa !== undefined,
        },
        lognormal('setting depth', 1.6, 0.03, 'm'),
        lognormal('girth at ground line', 0.85, 0.008, 'm'),
        lognormal('girth at the tip', 0.54, 0.02, 'm'),
      ],
    },
    RESULT_DIGITS,
  );
  const { requiredModulusPa, ...conclusion } = roundNumbers(
    concludeOnStrength(visit, told, calibration),
    RESULT_DIGITS,
  );
  const result = roundNumbers(
    { ...assessment, ...told, ...conclusion, visit: visitName, poleId: visit.pole.id },
    RESULT_DIGITS,
  );
  return { result, requiredModulusPa };
}
