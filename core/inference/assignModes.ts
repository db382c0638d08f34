import type { Pick } from './data.ts';
import { predictFrequenciesHz, weighPicks } from './fitStemAndRoot.ts';
import { type FrequencyTable, MODES_KNOWN } from './frequencyTable.ts';

/** A natural frequency of one plane whose mode number is not yet known. */
export type NumberlessPick = {
  readonly plane: number;
  readonly frequencyHz: number;
  readonly sdHz: number;
  /** Set by an analyst: the number is given. */
  readonly fixedNumber: number | null;
};

/** One way to number the picks: a number for each, or null for "no bending mode of this pole". */
export type Assignment = { readonly numbers: readonly (number | null)[]; readonly probability: number };

/** Bounds of a mode's ln f. */
type Reach = { readonly low: number; readonly high: number };

/** Planes of one pole differ by cables and ovality; frequencies nearer than this are the same mode in both (ours). */
const SAME_MODE_LOG_DISTANCE = 0.16;
/** Before the frequencies are weighed: a proposed pick is no bending mode, with its ln f anywhere over a wide band. */
const SPURIOUS_PRIOR = 0.05;
const SPURIOUS_LOG_WIDTH = Math.log(120 / 0.5);
/** A mode that should be there was not found: mode 1 is often not lit by a hammer, the others seldom are missed (ours). */
const MISSED_PRIOR = [0.3, 0.1, 0.15, 0.4];
/** Room around the model's own reach in ln f within which a number is worth weighing. */
const REACH_MARGIN = 0.12;
const MOST_WEIGHED = 40;
/** Ways this far behind the best on a coarse grid, in ln, stay behind on a finer one. */
const HOPELESS = 20;

/**
 * Weighs every plausible way to give picks their mode numbers: picks of both planes at nearly the same
 * frequency share a number, numbers rise with frequency, any pick may be spurious; where an analyst set a number in one
 * plane, a peak of that plane that it contradicts goes without one, and its like in the other plane keeps its own; picks above the reach of the
 * highest mode known have no number and no say. The probability of each
 * comes from the evidence of its picks under the pole's priors. Most probable first.
 */
export function assignModes(table: FrequencyTable, picks: readonly NumberlessPick[]): Assignment[] {
  const reach = reachOfModes(table);
  const isKnown = (pick: NumberlessPick) =>
    pick.fixedNumber !== null || Math.log(pick.frequencyHz) <= reach.at(-1)!.high;
  const groups = groupPicks(picks.filter(isKnown), reach);
  const fixed = picks.filter((pick) => pick.fixedNumber !== null);
  const candidates: { numbers: (number | null)[]; rough: number }[] = [];
  enumerate(groups, fixed, [], (numbers) =>
    candidates.push({ numbers, rough: roughFit(groups, fixed, numbers, reach) }),
  );
  candidates.sort((a, b) => b.rough - a.rough);

  const likely = candidates
    .filter((c) => Number.isFinite(c.rough))
    .slice(0, MOST_WEIGHED)
    .map(({ numbers }) => {
      const numberOf = new Map<NumberlessPick, number | null>();
      for (const [g, group] of groups.entries()) {
        for (const pick of carriersOf(group, numbers[g]!, fixed)) numberOf.set(pick, numbers[g]!);
      }
      const perPick = picks.map((pick) => numberOf.get(pick) ?? null);
      const kept: Pick[] = picks.flatMap((pick, i) =>
        perPick[i] == null ? [] : [{ ...pick, number: perPick[i]! }],
      );
      const logPrior = logPriorOf(picks, perPick, isKnown);
      return { numbers: perPick, kept, logPrior, logCoarse: weighPicks(table, kept, 'coarse') + logPrior };
    });
  const best = Math.max(...likely.map((c) => c.logCoarse));
  const weighed = likely
    .filter((c) => c.logCoarse > best - HOPELESS)
    .map(({ numbers, kept, logPrior }) => ({
      numbers,
      logWeight: weighPicks(table, kept, 'rough') + logPrior,
    }));
  const largest = Math.max(...weighed.map((w) => w.logWeight));
  const total = weighed.reduce((sum, w) => sum + Math.exp(w.logWeight - largest), 0);
  return weighed
    .map(({ numbers, logWeight }) => ({ numbers, probability: Math.exp(logWeight - largest) / total }))
    .sort((a, b) => b.probability - a.probability);
}

/**
 * Picks of different planes that are the same mode, ascending in frequency. An analyst's number keeps a pick apart from one
 * with another number, and from one that the number cannot be: a number set wrongly must not spoil what the other plane shows.
 */
function groupPicks(picks: readonly NumberlessPick[], reach: readonly Reach[]): NumberlessPick[][] {
  const ordered = [...picks].sort((a, b) => a.frequencyHz - b.frequencyHz);
  const groups: NumberlessPick[][] = [];
  for (const pick of ordered) {
    const group = groups.at(-1);
    const joins =
      group?.every(
        (other) =>
          other.plane !== pick.plane &&
          canShareNumber(pick, other, reach) &&
          Math.log(pick.frequencyHz / other.frequencyHz) < SAME_MODE_LOG_DISTANCE,
      ) ?? false;
    if (joins) group!.push(pick);
    else groups.push([pick]);
  }
  return groups;
}

function canShareNumber(a: NumberlessPick, b: NumberlessPick, reach: readonly Reach[]): boolean {
  if (a.fixedNumber !== null && b.fixedNumber !== null) return a.fixedNumber === b.fixedNumber;
  const number = a.fixedNumber ?? b.fixedNumber;
  return number === null || isInReach(a.fixedNumber === null ? a : b, reach[number - 1]!);
}

function isInReach({ frequencyHz }: NumberlessPick, { low, high }: Reach): boolean {
  const logF = Math.log(frequencyHz);
  return logF >= low && logF <= high;
}

function fixedNumberOf(group: readonly NumberlessPick[]): number | null {
  return group.find((pick) => pick.fixedNumber !== null)?.fixedNumber ?? null;
}

/** Those of a group that can have a number beside the numbers that an analyst set in their planes. */
function carriersOf(
  group: readonly NumberlessPick[],
  number: number | null,
  fixed: readonly NumberlessPick[],
): readonly NumberlessPick[] {
  if (number === null || fixed.length === 0) return group;
  return group.filter((pick) =>
    fixed.every(
      (set) =>
        set === pick ||
        set.plane !== pick.plane ||
        (set.fixedNumber! < number && set.frequencyHz < pick.frequencyHz) ||
        (set.fixedNumber! > number && set.frequencyHz > pick.frequencyHz),
    ),
  );
}

/** Visits every numbering of the groups in which the numbers of each plane rise with frequency. */
function enumerate(
  groups: readonly NumberlessPick[][],
  fixed: readonly NumberlessPick[],
  numbers: readonly (number | null)[],
  visit: (numbers: (number | null)[]) => void,
): void {
  const group = groups[numbers.length];
  if (!group) {
    visit([...numbers]);
    return;
  }
  const given = fixedNumberOf(group);
  if (given === null) enumerate(groups, fixed, [...numbers, null], visit);
  for (let number = given ?? 1; number <= (given ?? MODES_KNOWN); number++) {
    const carriers = carriersOf(group, number, fixed);
    const rises = numbers.every(
      (other, g) =>
        other === null || other < number || !sharesPlane(carriersOf(groups[g]!, other, fixed), carriers),
    );
    if (carriers.length > 0 && rises) enumerate(groups, fixed, [...numbers, number], visit);
  }
}

function sharesPlane(a: readonly NumberlessPick[], b: readonly NumberlessPick[]): boolean {
  return a.some((pick) => b.some((other) => other.plane === pick.plane));
}

/** Least and greatest ln f of each mode over the root's reach at the prior median and 3 deviations of stem modulus. */
function reachOfModes(table: FrequencyTable): Reach[] {
  const { median, logSd } = table.model.modulus;
  const REACH_SD = 3;
  const corners = table.azimuthsDeg.flatMap((_, plane) =>
    [table.x[0]!, table.x.at(-1)!].flatMap((x) =>
      [-REACH_SD, REACH_SD].map((t) => predictFrequenciesHz(table, plane, x, Math.log(median) + t * logSd)),
    ),
  );
  return Array.from({ length: MODES_KNOWN }, (_, mode) => ({
    low: Math.log(Math.min(...corners.map((c) => c[mode]!))) - REACH_MARGIN,
    high: Math.log(Math.max(...corners.map((c) => c[mode]!))) + REACH_MARGIN,
  }));
}

/** Prefers many numbered groups within reach; minus infinity where a number is out of reach. */
function roughFit(
  groups: readonly NumberlessPick[][],
  fixed: readonly NumberlessPick[],
  numbers: readonly (number | null)[],
  reach: readonly Reach[],
): number {
  let score = 0;
  for (const [g, number] of numbers.entries()) {
    if (number === null) {
      score -= groups[g]!.length;
      continue;
    }
    const { low, high } = reach[number - 1]!;
    const carriers = carriersOf(groups[g]!, number, fixed);
    score -= groups[g]!.length - carriers.length;
    for (const pick of carriers) {
      if (pick.fixedNumber === null && !isInReach(pick, { low, high })) return Number.NEGATIVE_INFINITY;
      score -= Math.abs(Math.log(pick.frequencyHz) - (low + high) / 2) / (high - low);
    }
  }
  return score;
}

function logPriorOf(
  picks: readonly NumberlessPick[],
  numbers: readonly (number | null)[],
  isKnown: (pick: NumberlessPick) => boolean,
): number {
  let logPrior = 0;
  for (const [i, number] of numbers.entries()) {
    if (picks[i]!.fixedNumber !== null || !isKnown(picks[i]!)) continue;
    logPrior +=
      number === null ? Math.log(SPURIOUS_PRIOR / SPURIOUS_LOG_WIDTH) : Math.log(1 - SPURIOUS_PRIOR);
  }
  const highest = Math.max(0, ...numbers.map((n) => n ?? 0));
  for (let number = 1; number <= highest; number++) {
    const missed = MISSED_PRIOR[number - 1]!;
    logPrior += Math.log(numbers.includes(number) ? 1 - missed : missed);
  }
  return logPrior;
}
