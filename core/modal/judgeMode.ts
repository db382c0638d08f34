import type { GatheredMode } from './gatherModes.ts';
import type { StrikeLines } from './strikeLines.ts';
import type { ModeCandidate, Refusal } from './strikeSegment.ts';

export type Judgement = Pick<ModeCandidate, 'accepted' | 'refusal' | 'reason'>;

/** What is weighed beside the sightings. */
export interface Circumstances {
  readonly strikes: readonly StrikeLines[];
  /** Other gathered modes of the visit. */
  readonly others: readonly GatheredMode[];
  /** Model orders at which a pole holds at this frequency. */
  readonly orders: number;
}

/** Mains frequencies of the world and how many harmonics reach into the band. */
const MAINS_HZ = [50, 60];
const MAINS_HARMONICS = 6;
/**
 * Grids keep within this of their frequency (normal operation, 50 mHz in Europe, with room for recorder
 * clocks).
 */
const MAINS_TOLERANCE = 0.003;
/**
 * Damping below which a line does not ring down: wood shows 0.5 % and more (common practice, no source), bare
 * steel 0.1 %.
 */
const LEAST_DAMPING = 0.0005;
/** Mains wander enough to look as damped as this. */
const HUM_DAMPING = 0.001;
/** Damping beyond which a peak is no bending mode of a pole (common practice, no source). */
const MOST_DAMPING = 0.2;
/** Energy of the peak over the noise of a line; the largest of 1000 lines of noise reaches 8.4 dB. */
const LEAST_PROMINENCE_DB = 10;
/** The same for a mode that no second strike confirms. */
const LEAST_PROMINENCE_ALONE_DB = 16;
const LARGEST_FREQUENCY_DOUBT = 0.02;
/** Share of the strikes of one exciter that must show a mode. */
const LEAST_SHARE_OF_STRIKES = 0.5;

/** Below the corner a mode is still a mode, but drift and noise grow there: more is asked for. */
const LEAST_PROMINENCE_BELOW_CORNER_DB = 20;
/** A fainter peak must hold over model orders, or have a partner in the other plane. */
const LEAST_PROMINENCE_UNHELD_DB = 20;
/**
 * Planes of one pole differ by less than this share in each mode. A mode that other strikes show at another
 * frequency, as near as this, belongs to the pole as it was then: held, or with a ladder at it.
 */
const SAME_MODE_SHARE = 0.15;

/** Takes or refuses a gathered mode, in plain words. */
export function judgeMode(mode: GatheredMode, { strikes, others, orders }: Circumstances): Judgement {
  const f = mode.frequencyHz.value;
  const damping = mode.dampingRatio.value;
  const corner = Math.max(0, ...strikes.map((strike) => strike.segment.cornerHz ?? 0));
  const refuse = (refusal: Refusal, reason: string): Judgement => ({ accepted: false, refusal, reason });
  const seen = describeSightings(mode, strikes);
  const alone = mode.sightings.length === 1;
  if (f < corner && (alone || mode.prominenceDb < LEAST_PROMINENCE_BELOW_CORNER_DB))
    return refuse(
      'corner',
      `Lies below the corner of sensor or recorder (${corner} Hz), where the signal is lost in noise and drift; two strikes and ${LEAST_PROMINENCE_BELOW_CORNER_DB} dB over the noise are wanted there.`,
    );
  if (damping < HUM_DAMPING && isMains(f))
    return refuse('hum', 'A steady tone at a mains frequency or its harmonic: hum, not the pole.');
  if (damping < LEAST_DAMPING)
    return refuse(
      'steady',
      `Hardly decays (damping ${percent(damping)}): a steady tone, not a ringing pole.`,
    );
  if (damping > MOST_DAMPING)
    return refuse(
      'damped',
      `Damping of ${percent(damping)} is more than a bending mode of a pole shows (${percent(MOST_DAMPING)}).`,
    );
  if (mode.prominenceDb < LEAST_PROMINENCE_DB)
    return refuse(
      'faint',
      `Stands only ${mode.prominenceDb.toFixed(0)} dB over the noise; ${LEAST_PROMINENCE_DB} dB are wanted.`,
    );
  if (mode.frequencyHz.sd > LARGEST_FREQUENCY_DOUBT * f)
    return refuse(
      'vague',
      `Its frequency is known to ${percent(mode.frequencyHz.sd / f)} only; ${percent(LARGEST_FREQUENCY_DOUBT)} are wanted.`,
    );
  if (alone && seen.best.total > 1)
    return refuse(
      'once',
      `Seen in one of ${seen.best.total} ${seen.best.exciter} strikes only: not repeatable.`,
    );
  if (seen.best.found < LEAST_SHARE_OF_STRIKES * seen.best.total)
    return refuse('seldom', `Seen in ${seen.text}: fewer than half.`);
  const rival = others.find((other) => isRival(mode, other));
  if (rival !== undefined)
    return refuse(
      'touched',
      `Seen in ${mode.sightings.length} strikes only, and those lack the mode at ${rival.frequencyHz.value.toPrecision(4)} Hz that ${rival.sightings.length} others show: something touched the pole.`,
    );
  if (alone && mode.prominenceDb < LEAST_PROMINENCE_ALONE_DB)
    return refuse(
      'faint',
      `Seen in one strike only and ${mode.prominenceDb.toFixed(0)} dB over the noise; ${LEAST_PROMINENCE_ALONE_DB} dB are wanted without a second strike.`,
    );
  const isPaired = others.some((other) => isPartner(mode, other));
  if (orders === 0 && !isPaired && mode.prominenceDb < LEAST_PROMINENCE_UNHELD_DB)
    return refuse(
      'unstable',
      `Stands ${mode.prominenceDb.toFixed(0)} dB over the noise, but no pole of a common model of all strikes holds here, and the other plane shows none beside it.`,
    );
  const holds = orders > 0 ? `, holds over ${orders} model orders` : '';
  const below =
    f < corner ? ` Lies below the corner of sensor or recorder (${corner} Hz), yet clear of noise.` : '';
  return {
    accepted: true,
    refusal: null,
    reason: `Seen in ${seen.text}, ${mode.prominenceDb.toFixed(0)} dB over the noise, damping ${percent(damping)}${holds}.${below}`,
  };
}

/** The other plane shows a mode here too, as a pole's planes do. */
function isPartner(mode: GatheredMode, other: GatheredMode): boolean {
  const apart = Math.abs(Math.log(other.frequencyHz.value / mode.frequencyHz.value));
  return other.plane !== mode.plane && apart < SAME_MODE_SHARE && other.prominenceDb >= LEAST_PROMINENCE_DB;
}

/** More strikes show `other` beside `mode`, and none shows both. */
function isRival(mode: GatheredMode, other: GatheredMode): boolean {
  if (other === mode || other.plane !== mode.plane || other.sightings.length <= mode.sightings.length)
    return false;
  if (Math.abs(Math.log(other.frequencyHz.value / mode.frequencyHz.value)) > SAME_MODE_SHARE) return false;
  return !mode.sightings.some(({ strike }) => other.sightings.some((sighting) => sighting.strike === strike));
}

function percent(share: number): string {
  return `${(100 * share).toFixed(2)} %`;
}

function isMains(frequencyHz: number): boolean {
  return MAINS_HZ.some((mains) => {
    const harmonic = Math.round(frequencyHz / mains);
    return (
      harmonic >= 1 &&
      harmonic <= MAINS_HARMONICS &&
      Math.abs(frequencyHz / (harmonic * mains) - 1) < MAINS_TOLERANCE
    );
  });
}

/**
 * How many strikes of each exciter show the mode; the exciter that shows it best decides, since hand and
 * hammer light different modes.
 */
function describeSightings(mode: GatheredMode, strikes: readonly StrikeLines[]) {
  const exciters = [...new Set(strikes.map((strike) => strike.segment.exciter))];
  const counts = exciters.map((exciter) => ({
    exciter,
    found: mode.sightings.filter((sighting) => sighting.strike.segment.exciter === exciter).length,
    total: strikes.filter((strike) => strike.segment.exciter === exciter).length,
  }));
  const best = counts.reduce((a, b) => (b.found / b.total > a.found / a.total ? b : a));
  const text = counts
    .filter(({ found }) => found > 0)
    .map(
      ({ exciter, found, total }) =>
        `${found} of ${total} ${exciter === 'unknown' ? '' : `${exciter} `}strikes`,
    )
    .join(' and ');
  return { best, text };
}
