import { formatChance } from '../../formatNumbers.ts';
import { nameFinding } from '../../nameFinding.ts';
import type { NEED_KINDS } from '../contract/registerCalls.ts';
import type { RegisterRow } from '../contract.ts';
import type { ResultSummary } from '../summarise.ts';
import type { Sharer } from './readSharers.ts';
import type { Changes } from './tellChanges.ts';

type NeedKind = (typeof NEED_KINDS)[number];
export type Need = RegisterRow['need'];
type Reason = { readonly kind: NeedKind; readonly words: string; readonly weight: number };

export type Doubtful = {
  readonly summary: ResultSummary;
  readonly assessmentId: number | null;
  readonly standing: RegisterRow['standing'];
  /** The latest ruling that stands. */
  readonly ruling: RegisterRow['ruling'];
  /** What differs from earlier visits to the same pole. */
  readonly changes: Changes | null;
  /** A visit to another pole that has a recording of this one. */
  readonly sharer: Sharer | null;
};

/** Chances of an outcome other than the present one after another look, by what is open (ours). */
const WEIGHTS = {
  failed: 0.95,
  withheld: 0.9,
  'not assessed': 0.85,
  /** One of two visits tells of another pole. */
  'another pole': 0.9,
  /**
   * Of a capacity that is as likely below as above, and less where it lies above; the threshold decides, the requirement warns. Of one
   * that is more likely below the requirement the weight stays, and does not fall below that of `below` where it is the threshold.
   */
  nearThreshold: 0.8,
  nearRequirement: 0.4,
  below: 0.5,
  changed: 0.6,
  'no threshold': 0.45,
  'one-sided': 0.4,
  /** Of blows that can all not be used; less where some can. */
  faulty: 0.5,
  'set by hand': 0.5,
  finding: 0.3,
} as const;

/** A chance between these is decided neither way. */
const DOUBTFUL_CHANCE = [0.05, 0.95] as const;
const EVEN_CHANCE = 0.5;

/** Findings that question the fit itself, and how much (ours). */
const MISFITS: Readonly<Record<string, number>> = {
  misfit: 0.6,
  'rival-assignment': 0.5,
  'peak-passed-over': 0.5,
  'ratio-below-clamped': 0.5,
  'odd-pick': 0.4,
  'odd-datum': 0.4,
  'pick-not-seen': 0.3,
  'pick-moved': 0.3,
};

/** Told by reasons of their own, or true of nearly every pole, so that they set none apart. */
const TOLD_OTHERWISE = new Set([
  'section-not-inspected',
  'girth-unchecked',
  'faulty-strikes',
  'strikes-overruled',
  'one-sided',
  'own-prior',
  'own-picks',
]);

/** A finding that is no fault of the measurement but one of the pole, and weighs more (ours). */
const GRAVE: Readonly<Record<string, number>> = {
  'soft-root': 0.6,
  'girth-off-class': 0.5,
  'density-off-species': 0.5,
};
/** Nearly every pole has it under the handbook calibration (ours). */
const COMMON: Readonly<Record<string, number>> = { 'calibration-limit': 0.1 };

/**
 * How much another look at a visit could change what is made of it, with the reasons in words. The score takes the reasons
 * as independent: 1 - product of (1 - weight). A ruling on the result at hand settles a visit, as does a later visit or file.
 */
export function rankNeed(doubtful: Doubtful): Need {
  const { standing, ruling, assessmentId } = doubtful;
  if (standing !== 'latest') return SETTLED;
  const isRuledOn = ruling !== null && ruling.assessmentId === assessmentId;
  if (isRuledOn) return SETTLED;
  const reasons = listReasons(doubtful).sort((a, b) => b.weight - a.weight);
  const score = 1 - reasons.reduce((product, { weight }) => product * (1 - weight), 1);
  return { score, reasons: reasons.map(({ kind, words }) => ({ kind, words })) };
}

const SETTLED: Need = { score: 0, reasons: [] };

function listReasons({ summary, assessmentId, ruling, changes, sharer }: Doubtful): Reason[] {
  const reasons: Reason[] = [];
  const add = (kind: NeedKind, weight: number, words: string) => reasons.push({ kind, weight, words });
  const { verdict, identifiability, strikes, findings } = summary;

  if (ruling !== null && assessmentId !== null) {
    add('newer than ruling', WEIGHTS.changed, `ruled "${ruling.decision}" on an earlier result`);
  }
  if (sharer) {
    const words = `recordings are those of ${sharer.poleId}, ${sharer.date}`;
    add('another pole', WEIGHTS['another pole'], words);
  }
  if (verdict === 'failed') add('failed', WEIGHTS.failed, 'could not be assessed');
  if (verdict === 'not assessed') {
    add('not assessed', WEIGHTS['not assessed'], 'not assessed yet');
    return reasons;
  }
  if (verdict === 'withheld') add('withheld', WEIGHTS.withheld, tellWithheld(summary));
  if (identifiability === 'not separated')
    add('not separated', WEIGHTS['one-sided'], 'stem not told from root');
  if (identifiability === 'one-sided') {
    add('not separated', WEIGHTS['one-sided'], 'stem or root told from one side only');
  }
  addThreshold(summary, add);
  if (changes) add('changed', WEIGHTS.changed, changes.words);
  if (strikes.found > strikes.usable) {
    const share = (strikes.found - strikes.usable) / strikes.found;
    add(
      'faulty blows',
      WEIGHTS.faulty * share,
      `${strikes.found - strikes.usable} of ${strikes.found} blows faulty`,
    );
  }
  if (summary.setByHand.length > 0) {
    add('set by hand', WEIGHTS['set by hand'], `set by hand: ${summary.setByHand.join(', ')}`);
  }
  // one kind of finding is one reason, however many it was found at
  for (const id of new Set(findings.map((finding) => finding.id))) {
    const misfit = MISFITS[id];
    if (misfit !== undefined) add('misfit', misfit, nameFinding(id));
    else if (verdict !== 'failed' && !TOLD_OTHERWISE.has(id)) {
      add('finding', GRAVE[id] ?? COMMON[id] ?? WEIGHTS.finding, nameFinding(id));
    }
  }
  return reasons;
}

/** Where the head of a sentence ends: at a colon, a semicolon or a stop. */
const HEAD_ENDS = /[:;.](?:\s|$)/;

/** The head of what the result says itself; a calibration's words begin with its name. */
function tellWithheld({ withheldBy, withheldBecause }: ResultSummary): string {
  if (withheldBecause === null) return 'result withheld';
  const [first, second] = withheldBecause.split(HEAD_ENDS) as [string, string];
  if (withheldBy === 'calibration') return `result withheld by ${first}: ${lowerFirst(second)}`;
  return `result withheld: ${lowerFirst(first)}`;
}

function lowerFirst(words: string): string {
  return `${words.charAt(0).toLowerCase()}${words.slice(1)}`;
}

/** Capacity against the threshold in service and against the whole requirement. */
function addThreshold(
  { verdict, capacityNm, requirementNm, chanceBelow, chanceBelowThreshold }: ResultSummary,
  add: (kind: NeedKind, weight: number, words: string) => void,
): void {
  if (verdict === 'failed') return;
  if (requirementNm === null) {
    add('no threshold', WEIGHTS['no threshold'], 'no requirement known');
    return;
  }
  if (capacityNm === null) return;
  if ((chanceBelowThreshold ?? chanceBelow ?? 0) >= DOUBTFUL_CHANCE[1]) {
    add('below threshold', WEIGHTS.below, 'below the threshold');
    return;
  }
  const isMoreLikelyBelow = (chanceBelowThreshold ?? 0) > EVEN_CHANCE;
  const lines = [
    {
      name: 'threshold',
      chance: chanceBelowThreshold,
      weight: WEIGHTS.nearThreshold,
      atLeast: WEIGHTS.below,
    },
    {
      name: 'requirement',
      // what is below the threshold is below the requirement as well
      chance: isMoreLikelyBelow ? null : chanceBelow,
      weight: WEIGHTS.nearRequirement,
      atLeast: WEIGHTS.nearRequirement,
    },
  ]
    .flatMap(({ name, chance, weight, atLeast }) => {
      if (chance === null || chance <= DOUBTFUL_CHANCE[0]) return [];
      const least = chance > EVEN_CHANCE ? atLeast : 0;
      return [{ name, chance, weight: Math.max(weight * 4 * chance * (1 - chance), least) }];
    })
    .sort((x, y) => y.weight - x.weight);
  const [first, second] = lines;
  if (!first) return;
  const also = second ? `, ${formatChance(second.chance)} below ${second.name}` : '';
  add('near threshold', first.weight, `${formatChance(first.chance)} chance below ${first.name}${also}`);
}
