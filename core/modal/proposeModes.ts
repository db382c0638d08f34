import { MINIMUM_HZ } from './prepareStrikes.ts';
import type { ModeCandidate } from './strikeSegment.ts';

/** Where a mode of a plane may lie, from what is known of the pole before it rang. */
export interface PlausibleBand {
  readonly number: number;
  readonly lowHz: number;
  readonly highHz: number;
}

/** A candidate with its place among all. */
export interface ProposedMode extends ModeCandidate {
  /** 1 is the most certain of the visit's accepted modes; null for a refused one. */
  readonly rank: number | null;
  /** Mode numbers whose plausible band holds it. */
  readonly numbers: readonly number[];
}

/** A mode that the pole must have and the strikes do not show. */
export interface MissingMode {
  readonly plane: number;
  readonly number: number;
  readonly reason: string;
}

export interface Proposal {
  /** Accepted first, by plane and ascending frequency. */
  readonly modes: readonly ProposedMode[];
  readonly missing: readonly MissingMode[];
}

/** Modes up to this are looked for by name; the fourth is welcome, but no pole is judged without it. */
const WANTED_NUMBERS = [1, 2, 3];
/** A place that two candidates claim goes to the one that stands out by this much more. */
const CLEARER_DB = 10;
/** A candidate fainter than this gives way. */
const GIVES_WAY_BELOW_DB = 20;
/**
 * A first mode that one strike shows is taken where both planes show it, this far over the noise. Of 400
 * simulated visits without a first mode, none was given one so.
 */
const LEAST_ONCE_DB = 11;
const SAME_MODE_SHARE = 0.15;
/** What one strike says may be off by more than its own noise tells. */
const ONCE_WIDENING = 2;
const ONCE_DAMPING = [0.003, 0.08] as const;
/** Evidence of a mode, each from 0 to 1: clear of noise, seen by strikes, holding over orders. */
const FULL_PROMINENCE_DB = 50;
const FULL_ORDERS = 12;

/**
 * Proposes which candidates are modes of the pole: refuses what lies where no mode of this pole can be, or where
 * a clearer candidate has the place; takes a first mode that one strike shows in both planes, with a wider
 * deviation; ranks what is accepted; and names what is missing, and why.
 * @param plausible - by plane, bands of the lowest modes in ascending number; they may overlap
 * @param strikes - number of strikes behind the candidates
 * @param cornerHz - highest corner of the sensors; null where unknown
 */
export function proposeModes(
  candidates: readonly ModeCandidate[],
  plausible: readonly (readonly PlausibleBand[])[],
  { strikes, cornerHz }: { readonly strikes: number; readonly cornerHz: number | null },
): Proposal {
  const numbered = candidates.map((candidate) => ({
    ...candidate,
    numbers: (plausible[candidate.plane] ?? [])
      .filter(({ lowHz, highHz }) => {
        const doubt = candidate.frequencyHz.sd;
        return candidate.frequencyHz.value + doubt >= lowHz && candidate.frequencyHz.value - doubt <= highHz;
      })
      .map(({ number }) => number),
  }));
  const placed = numbered.map((candidate) =>
    judgePlace(candidate, numbered, plausible[candidate.plane] ?? []),
  );
  const settled = placed.map((candidate) => takeSeenOnce(candidate, placed));
  const order = settled
    .filter(({ accepted }) => accepted)
    .toSorted((a, b) => weighEvidence(b, strikes) - weighEvidence(a, strikes));
  const modes = settled
    .map((candidate) => ({ ...candidate, rank: candidate.accepted ? order.indexOf(candidate) + 1 : null }))
    .sort(
      (a, b) =>
        Number(b.accepted) - Number(a.accepted) ||
        a.plane - b.plane ||
        a.frequencyHz.value - b.frequencyHz.value,
    );
  return { modes, missing: listMissing(modes, plausible, cornerHz) };
}

type Numbered = Omit<ProposedMode, 'rank'>;

function judgePlace(
  candidate: Numbered,
  all: readonly Numbered[],
  bands: readonly PlausibleBand[],
): Numbered {
  if (!candidate.accepted || bands.length === 0) return candidate;
  const refuse = (reason: string): Numbered => ({ ...candidate, accepted: false, refusal: 'reach', reason });
  const { value } = candidate.frequencyHz;
  if (candidate.numbers.length === 0) {
    const reach = bands.map(({ number, lowHz, highHz }) => `${number}: ${show(lowHz)} to ${show(highHz)} Hz`);
    return refuse(
      value > Math.max(...bands.map(({ highHz }) => highHz))
        ? `Rings, but above the reach of modes 1 to ${bands.length} of a pole of this size.`
        : `Lies where no mode of a pole of this size can be (${reach.join('; ')}).`,
    );
  }
  if (candidate.prominenceDb >= GIVES_WAY_BELOW_DB) return candidate;
  const clearer = all.filter(
    (other) =>
      other.accepted &&
      other.plane === candidate.plane &&
      other.prominenceDb > candidate.prominenceDb + CLEARER_DB &&
      other.numbers.length > 0,
  );
  // numbers rise with frequency: what lies between two settled neighbours has no number left
  const below = clearer.filter(({ frequencyHz }) => frequencyHz.value < value);
  const above = clearer.filter(({ frequencyHz }) => frequencyHz.value > value);
  const least = below.length === 0 ? 0 : Math.max(...below.map(({ numbers }) => Math.min(...numbers)));
  const most =
    above.length === 0
      ? Number.POSITIVE_INFINITY
      : Math.min(...above.map(({ numbers }) => Math.max(...numbers)));
  if (candidate.numbers.some((number) => number > least && number < most)) return candidate;
  const rival = [...below, ...above].reduce((a, b) => (b.prominenceDb > a.prominenceDb ? b : a));
  return refuse(
    `Only mode ${candidate.numbers.join(' or ')} could lie here, and ${show(rival.frequencyHz.value)} Hz has that place with ${rival.prominenceDb.toFixed(0)} dB over the noise against ${candidate.prominenceDb.toFixed(0)}.`,
  );
}

/** A first mode that one strike shows in both planes, where nothing else claims to be the first mode. */
function takeSeenOnce(candidate: Numbered, all: readonly Numbered[]): Numbered {
  const isOnce = (other: Numbered) =>
    other.refusal === 'once' &&
    other.numbers.includes(1) &&
    other.prominenceDb >= LEAST_ONCE_DB &&
    other.dampingRatio.value >= ONCE_DAMPING[0] &&
    other.dampingRatio.value <= ONCE_DAMPING[1];
  const { value, sd } = candidate.frequencyHz;
  if (!isOnce(candidate)) return candidate;
  const isLowest = !all.some(
    (other) =>
      other.accepted &&
      other.plane === candidate.plane &&
      (other.frequencyHz.value < value || isMode1(other)),
  );
  const rivals = all.filter((other) => other.plane === candidate.plane && isOnce(other));
  const isPaired = all.some(
    (other) =>
      other.plane !== candidate.plane &&
      (isOnce(other) || other.accepted) &&
      Math.abs(Math.log(other.frequencyHz.value / value)) < SAME_MODE_SHARE,
  );
  if (!isLowest || !isPaired || rivals.length > 1) return candidate;
  return {
    ...candidate,
    accepted: true,
    refusal: null,
    frequencyHz: { value, sd: ONCE_WIDENING * sd },
    dampingRatio: { ...candidate.dampingRatio, sd: ONCE_WIDENING * candidate.dampingRatio.sd },
    reason: `Seen once: one strike shows it, ${candidate.prominenceDb.toFixed(0)} dB over the noise, in both planes and where mode 1 must lie; its deviation is doubled. Strike again by hand to confirm it.`,
  };
}

function isMode1({ numbers }: Numbered): boolean {
  return numbers.length === 1 && numbers[0] === 1;
}

function weighEvidence(mode: ModeCandidate, strikes: number): number {
  return (
    Math.min(1, mode.prominenceDb / FULL_PROMINENCE_DB) +
    mode.strikes / Math.max(1, strikes) +
    Math.min(1, mode.orders / FULL_ORDERS)
  );
}

/** A corner above this share of a band's middle takes 1 dB and more of its mode. */
const WEAKENING_SHARE = 0.5;

function listMissing(
  modes: readonly ProposedMode[],
  plausible: readonly (readonly PlausibleBand[])[],
  cornerHz: number | null,
): MissingMode[] {
  return plausible.flatMap((bands, plane) =>
    bands.flatMap(({ number, lowHz, highHz }) => {
      const own = modes.filter((mode) => mode.plane === plane && mode.numbers.includes(number));
      if (!WANTED_NUMBERS.includes(number) || own.some(({ accepted }) => accepted)) return [];
      const refused = own.toSorted((a, b) => b.prominenceDb - a.prominenceDb)[0];
      const band = `between ${show(Math.max(lowHz, MINIMUM_HZ))} and ${show(highHz)} Hz`;
      const found =
        refused === undefined
          ? `Nothing stands out ${band}.`
          : `The clearest peak ${band}, at ${show(refused.frequencyHz.value)} Hz, was refused: ${refused.reason}`;
      const corner =
        cornerHz !== null && cornerHz > WEAKENING_SHARE * Math.sqrt(lowHz * highHz)
          ? ` The corner of sensor or recorder (${cornerHz} Hz) weakens the mode.`
          : '';
      return [{ plane, number, reason: found + corner }];
    }),
  );
}

function show(frequencyHz: number): string {
  return frequencyHz.toPrecision(3);
}
