import { fitLocalModes, type Sighting } from './fitLocalModes.ts';
import { type GatheredMode, gatherModes } from './gatherModes.ts';
import { judgeMode } from './judgeMode.ts';
import { MAXIMUM_HZ, MINIMUM_HZ, prepareStrikes } from './prepareStrikes.ts';
import type { StrikeLines } from './strikeLines.ts';
import type { ModeCandidate, StrikeSegment } from './strikeSegment.ts';

export interface IdentifyOptions {
  /** @default 0.4 */
  readonly minimumHz?: number;
  /** Third modes of poles lie below. Lowered where the sample rate does not reach. @default 120 */
  readonly maximumHz?: number;
}

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
  const { azimuthsDeg, turned, neighbourhoods, turn } = prepareStrikes(strikes, { minimumHz, maximumHz });
  const sightings = turned.flatMap((strike) =>
    neighbourhoods.flatMap((near) => fitLocalModes(strike, near, turn.sd)),
  );
  const candidates = gatherModes(sightings).map((mode) => describeMode(mode, azimuthsDeg, turned, sightings));
  return candidates.sort(
    (a, b) =>
      Number(b.accepted) - Number(a.accepted) ||
      a.plane - b.plane ||
      a.frequencyHz.value - b.frequencyHz.value,
  );
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
