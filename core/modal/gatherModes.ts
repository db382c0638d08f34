import type { Sighting } from './fitLocalModes.ts';
import { fuseEstimates } from './fuseEstimates.ts';
import type { MeasuredValue } from './strikeSegment.ts';

/** Sightings of one mode of one plane, at most one a strike, and what they say together. */
export interface GatheredMode {
  readonly plane: number;
  readonly sightings: readonly Sighting[];
  readonly frequencyHz: MeasuredValue;
  readonly dampingRatio: MeasuredValue;
  readonly prominenceDb: number;
}

/** Strikes of one visit agree on a frequency within this share; wood softens little with amplitude. */
const AGREEMENT_SHARE = 0.012;
/** Wider where the strikes are themselves less sure, but never beyond this share. */
const AGREEMENT_SDS = 3;
const LARGEST_AGREEMENT_SHARE = 0.03;
/**
 * An echo of a mode is believed to be a mode of its own plane only with no other mode of that plane this
 * near: planes of a pole differ by less.
 */
const ECHO_REACH = 0.15;
/**
 * What all strikes share is not averaged away: clocks of recorders are off by some 20 parts in a million
 * (crystals sold as good to 20 to 50; common practice, no source), and damping is no better known than the shape of a decay is truly exponential.
 */
const CLOCK_SHARE = 2e-5;
const DAMPING_SHARE = 5e-3;

/** Gathers sightings into modes, plane by plane, ascending in frequency. */
export function gatherModes(sightings: readonly Sighting[]): GatheredMode[] {
  const planes = [...new Set(sightings.map((sighting) => sighting.plane))].sort((a, b) => a - b);
  const modes = planes.flatMap((plane) =>
    gatherPlane(sightings.filter((sighting) => sighting.plane === plane)),
  );
  return modes.filter(
    (mode) =>
      !isEcho(mode) ||
      !modes.some(
        (other) =>
          other !== mode &&
          other.plane === mode.plane &&
          Math.abs(Math.log(other.frequencyHz.value / mode.frequencyHz.value)) < ECHO_REACH &&
          (!isEcho(other) || other.prominenceDb > mode.prominenceDb),
      ),
  );
}

function isEcho(mode: GatheredMode): boolean {
  return 2 * mode.sightings.filter((sighting) => sighting.isEcho).length > mode.sightings.length;
}

function gatherPlane(sightings: readonly Sighting[]): GatheredMode[] {
  const groups: Sighting[][] = [];
  for (const sighting of [...sightings].sort((a, b) => a.frequencyHz.value - b.frequencyHz.value)) {
    const group = groups[groups.length - 1];
    const last = group?.[group.length - 1];
    if (group !== undefined && last !== undefined && agree(last, sighting)) group.push(sighting);
    else groups.push([sighting]);
  }
  return groups.map(fuseGroup);
}

function agree(a: Sighting, b: Sighting): boolean {
  const apart = Math.abs(b.frequencyHz.value - a.frequencyHz.value) / b.frequencyHz.value;
  const doubt = (AGREEMENT_SDS * Math.hypot(a.frequencyHz.sd, b.frequencyHz.sd)) / b.frequencyHz.value;
  return apart < Math.min(Math.max(AGREEMENT_SHARE, doubt), LARGEST_AGREEMENT_SHARE);
}

function fuseGroup(group: readonly Sighting[]): GatheredMode {
  const clearest = new Map<Sighting['strike'], Sighting>();
  for (const sighting of group) {
    const kept = clearest.get(sighting.strike);
    if (kept === undefined || sighting.peakDb > kept.peakDb) clearest.set(sighting.strike, sighting);
  }
  const sightings = [...clearest.values()];
  const [first] = sightings;
  return {
    plane: first!.plane,
    sightings,
    frequencyHz: fuseWithShared('frequencyHz', CLOCK_SHARE),
    dampingRatio: fuseWithShared('dampingRatio', DAMPING_SHARE),
    prominenceDb: Math.max(...sightings.map((sighting) => sighting.peakDb)),
  };
  /**
   * Fuses what differs from strike to strike, then adds what all of them share: leakage between planes,
   * clock, model.
   */
  function fuseWithShared(quantity: 'frequencyHz' | 'dampingRatio', share: number): MeasuredValue {
    const { value, sd } = fuseEstimates(sightings.map((sighting) => sighting[quantity]));
    const leakage =
      sightings.reduce((sum, sighting) => sum + sighting.leakage[quantity], 0) / sightings.length;
    return { value, sd: Math.hypot(sd, leakage, share * value) };
  }
}
