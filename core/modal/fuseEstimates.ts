import type { MeasuredValue } from './strikeSegment.ts';

/**
 * Fuses estimates of one quantity from several strikes, weighted by inverse variance with a variance between
 * strikes added (random effects by moments: DerSimonian & Laird, Control. Clin. Trials 7, 1986, 177-188, its
 * beginning read). The standard deviation is the larger of that model's and of the weighted scatter about the
 * mean (Hartung & Knapp, Stat. Med. 20, 2001, 3875-3889, from memory; that the larger is to be taken where few
 * studies of unlike precision are fused: Rover, Knapp & Friede, BMC Med. Res. Methodol. 15, 2015, abstract
 * read), since a few strikes tell little of the variance between them.
 * @param estimates - at least one, each sd above 0
 */
export function fuseEstimates(estimates: readonly MeasuredValue[]): MeasuredValue {
  const n = estimates.length;
  const fixed = weigh(estimates, 0);
  if (n === 1) return { value: fixed.mean, sd: estimates[0]!.sd };
  const surplus = fixed.scatter - (n - 1);
  const between = Math.max(0, surplus / (fixed.total - fixed.squares / fixed.total));
  const random = weigh(estimates, between);
  const variance = Math.max(1, random.scatter / (n - 1)) / random.total;
  return { value: random.mean, sd: Math.sqrt(variance) };
}

function weigh(estimates: readonly MeasuredValue[], between: number) {
  let total = 0;
  let squares = 0;
  let sum = 0;
  for (const { value, sd } of estimates) {
    const weight = 1 / (sd * sd + between);
    total += weight;
    squares += weight * weight;
    sum += weight * value;
  }
  const mean = sum / total;
  const scatter = estimates.reduce((q, { value, sd }) => q + (value - mean) ** 2 / (sd * sd + between), 0);
  return { total, squares, mean, scatter };
}
