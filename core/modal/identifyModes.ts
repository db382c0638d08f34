import { estimateTurn } from './estimateTurn.ts';
import { fitLocalModes, type Neighbourhood, type Sighting } from './fitLocalModes.ts';
import { type GatheredMode, gatherModes } from './gatherModes.ts';
import { judgeMode } from './judgeMode.ts';
import { type Centre, proposeCentres } from './proposeCentres.ts';
import { listPlanes, type StrikeLines, transformStrike } from './strikeLines.ts';
import type { ModeCandidate, StrikeSegment } from './strikeSegment.ts';
import { turnChannels } from './turnChannels.ts';

export interface IdentifyOptions {
  /** @default 0.4 */
  readonly minimumHz?: number;
  /** Third modes of poles lie below. Lowered where the sample rate does not reach. @default 120 */
  readonly maximumHz?: number;
}

const MINIMUM_HZ = 0.4;
export const MAXIMUM_HZ = 120;
/** Recorders roll off before half the sample rate. */
const USABLE_SHARE_OF_RATE = 0.4;
/** A middle owns at most this share of frequency, or so many lines, on either side. */
const OWNED_SHARE = 0.12;
const OWNED_LINES = 5;

/**
 * Identifies the modes of a pole from its strikes: peaks of the spectra averaged over strikes propose where
 * to look, a parametric fit of each strike's free decay gives frequency and damping with their standard
 * deviations, strikes are fused for each plane, and each candidate is taken or refused with a reason. A mode
 * that no strike shows is left out.
 * @param strikes - usable strikes of one visit
 * @returns accepted candidates first, by plane and ascending frequency; empty for no strikes
 * @throws InputError `modal.strike` for a strike whose fields do not fit together
 */
export function identifyModes(
  strikes: readonly StrikeSegment[],
  options: IdentifyOptions = {},
): ModeCandidate[] {
  const { minimumHz = MINIMUM_HZ, maximumHz = MAXIMUM_HZ } = options;
  if (strikes.length === 0) return [];
  const { planes, transformed } = transformStrikes(strikes, maximumHz);
  const centres = proposeCentres(transformed, minimumHz);
  const neighbourhoods = divide(centres, transformed);
  const turn = estimateTurn(
    transformed,
    neighbourhoods.toSorted((a, b) => b.heightDb - a.heightDb),
  );
  const turned = transformed.map((strike) => turnChannels(strike, turn.value));
  const sightings = turned.flatMap((strike) =>
    neighbourhoods.flatMap((near) => fitLocalModes(strike, near, turn.sd)),
  );
  const candidates = gatherModes(sightings).map((mode) => describeMode(mode, planes, turned, sightings));
  return candidates.sort(
    (a, b) =>
      Number(b.accepted) - Number(a.accepted) ||
      a.plane - b.plane ||
      a.frequencyHz.value - b.frequencyHz.value,
  );
}

/** Strikes as spectral lines, and the azimuths of their planes. */
export function transformStrikes(
  strikes: readonly StrikeSegment[],
  maximumHz: number = MAXIMUM_HZ,
): { planes: number[]; transformed: StrikeLines[] } {
  const planes = listPlanes(strikes);
  const transformed = strikes.map((strike) =>
    transformStrike(strike, planes, Math.min(maximumHz, USABLE_SHARE_OF_RATE * strike.sampleRateHz)),
  );
  return { planes, transformed };
}

/** Gives each centre the stretch up to half way to its neighbours, so that no pole is counted twice. */
export function divide(centres: readonly Centre[], strikes: readonly StrikeLines[]): Neighbourhood[] {
  const spacing = Math.max(...strikes.map((strike) => strike.spacingHz));
  return centres.map((centre, i) => {
    const f = centre.frequencyHz;
    const reach = Math.max(OWNED_SHARE * f, OWNED_LINES * spacing);
    const below = centres[i - 1]?.frequencyHz ?? 0;
    const above = centres[i + 1]?.frequencyHz ?? Number.POSITIVE_INFINITY;
    return {
      frequencyHz: f,
      halfWidthHz: centre.halfWidthHz,
      heightDb: centre.heightDb,
      fromHz: Math.max(f - reach, (f + below) / 2),
      toHz: Math.min(f + reach, (f + above) / 2),
    };
  });
}

/** A gathered mode as a judged candidate. */
export function describeMode(
  mode: GatheredMode,
  planes: readonly number[],
  strikes: readonly StrikeLines[],
  sightings: readonly Sighting[],
): ModeCandidate {
  const relative = mode.sightings.map(({ strike, amplitude }) => {
    const rivals = sightings.filter((other) => other.strike === strike && other.plane === mode.plane);
    return amplitude / Math.max(amplitude, ...rivals.map((rival) => rival.amplitude));
  });
  return {
    plane: mode.plane,
    azimuthDeg: planes[mode.plane]!,
    frequencyHz: mode.frequencyHz,
    dampingRatio: mode.dampingRatio,
    prominenceDb: mode.prominenceDb,
    strikes: mode.sightings.length,
    relativeAmplitude: Math.max(...relative),
    ...judgeMode(mode, strikes),
  };
}
