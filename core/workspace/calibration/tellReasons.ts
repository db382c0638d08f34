import type { Assessment } from '../../assessment.ts';
import { tellRatio } from '../../formatNumbers.ts';

/** What of a result is compared. */
export type StrengthSide = Pick<Assessment, 'withheldBecause' | 'strength' | 'requirement'>;

/** Changes smaller than this share are rounding to whoever reads them. */
const LEAST_SHARE = 0.005;
const PA_PER_MPA = 1e6;
const NM_PER_KNM = 1e3;

/**
 * Says in plain sentences why a pole's strength and what is asked of it differ between two results of the same stem and
 * root: first what moved the figures most, then what the newer calibration warns of.
 */
export function tellReasons(before: StrengthSide, after: StrengthSide): string[] {
  return [
    ...tellWithheld(before, after),
    ...tellStrength(before, after),
    ...tellWidth(before, after),
    ...tellRequirement(before, after),
    ...tellWarnings(before, after),
  ];
}

function tellWithheld(before: StrengthSide, after: StrengthSide): string[] {
  if (!after.strength) return after.withheldBecause ? [after.withheldBecause] : ['No strength is given now.'];
  if (before.strength) return [];
  return [`A strength is given now; before: ${before.withheldBecause ?? 'none'}`];
}

function tellStrength({ strength: before }: StrengthSide, { strength: after }: StrengthSide): string[] {
  if (!before || !after) return [];
  const [was, is] = [before.modulusOfRupturePa.value, after.modulusOfRupturePa.value];
  if (Math.abs(is / was - 1) < LEAST_SHARE) return [];
  const megapascals = (pa: number) => (pa / PA_PER_MPA).toFixed(1);
  return [
    `Bending strength by ${after.calibration} is ${megapascals(is)} MPa, ${tellRatio(is / was)} than the ${megapascals(was)} MPa by ${before.calibration}.`,
    ...(after.because ?? []),
  ];
}

function tellWidth({ strength: before }: StrengthSide, { strength: after }: StrengthSide): string[] {
  if (!before || !after) return [];
  const width = ({ low, high }: { low: number; high: number }) => Math.log(high / low);
  const ratio = width(after.modulusOfRupturePa) / width(before.modulusOfRupturePa);
  if (!(Math.abs(ratio - 1) >= 10 * LEAST_SHARE)) return [];
  return [`The interval is ${tellRatio(ratio, { more: 'wider', less: 'narrower' })}.`];
}

function tellRequirement(
  { requirement: before }: StrengthSide,
  { requirement: after }: StrengthSide,
): string[] {
  if (!after)
    return before ? ['Nothing is asked of the pole any more: neither loads nor a class are known.'] : [];
  const [was, is] = [before?.thresholdMomentNm ?? 0, after.thresholdMomentNm];
  if (Math.abs(is - was) <= LEAST_SHARE * is) return [];
  const kilo = (nm: number) => (nm / NM_PER_KNM).toFixed(1);
  return [
    `The threshold is ${kilo(is)} kN·m${before ? ` instead of ${kilo(was)} kN·m` : ', where none was known'}: ${after.source}`,
  ];
}

function tellWarnings({ strength: before }: StrengthSide, { strength: after }: StrengthSide): string[] {
  const known = new Set(before?.warnings);
  return (after?.warnings ?? []).filter((warning) => !known.has(warning));
}
