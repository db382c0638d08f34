import { type PoleCluster, stabilise } from './computeStabilisation.ts';
import { fitLocalModes } from './fitLocalModes.ts';
import { type GatheredMode, gatherModes } from './gatherModes.ts';
import { judgeMode } from './judgeMode.ts';
import { measureShape } from './measureShape.ts';
import { MAXIMUM_HZ, MINIMUM_HZ, prepareStrikes } from './prepareStrikes.ts';
import type { StrikeLines } from './strikeLines.ts';
import type { MeasuredValue, ModeCandidate, StrikeSegment } from './strikeSegment.ts';

export interface IdentifyOptions {
  /** @default 0.4 */
  readonly minimumHz?: number;
  /** Third modes of poles lie below. Lowered where the sample rate does not reach. @default 120 */
  readonly maximumHz?: number;
}

export interface ModalAnalysis {
  /** Accepted first, by plane and ascending frequency. */
  readonly candidates: readonly ModeCandidate[];
  /** Azimuths of the planes that the candidates name. */
  readonly azimuthsDeg: readonly number[];
  /** From the sensor's axes to the principal planes, in the sense of azimuths; within 45 degrees. */
  readonly turnDeg: MeasuredValue;
}

/** A pole of the diagram is a candidate's within this share of frequency, or so many standard deviations. */
const SAME_POLE_SHARE = 0.008;
const SAME_POLE_SDS = 2;

/**
 * Identifies the modes of a pole from its strikes: peaks of the spectra averaged over strikes propose where
 * to look, the strikes are turned to the principal planes that they show, a parametric fit of each strike's free
 * decay gives frequency and damping with their standard deviations, strikes are fused for each plane, and each
 * candidate is taken or refused with a reason. A mode that no strike shows is left out.
 * @param strikes - usable strikes of one visit
 * @throws InputError `modal.strike` for a strike whose fields do not fit together
 */
export function identifyModes(
  strikes: readonly StrikeSegment[],
  options: IdentifyOptions = {},
): ModalAnalysis {
  const { minimumHz = MINIMUM_HZ, maximumHz = MAXIMUM_HZ } = options;
  if (strikes.length === 0) return { candidates: [], azimuthsDeg: [], turnDeg: { value: 0, sd: 0 } };
  const { azimuthsDeg, turned, neighbourhoods, turn } = prepareStrikes(strikes, { minimumHz, maximumHz });
  const sightings = turned.flatMap((strike) =>
    neighbourhoods.flatMap((near) => fitLocalModes(strike, near, turn.sd)),
  );
  const modes = gatherModes(sightings);
  const nearHz = modes.map(({ frequencyHz }) => frequencyHz.value);
  const { clusters } = stabilise(turned, azimuthsDeg.length, minimumHz, nearHz);
  const candidates = modes.map((mode) =>
    describeMode(mode, { azimuthsDeg, strikes: turned, modes, clusters }),
  );
  candidates.sort(
    (a, b) =>
      Number(b.accepted) - Number(a.accepted) ||
      a.plane - b.plane ||
      a.frequencyHz.value - b.frequencyHz.value,
  );
  const inDegrees = (radians: number) => (180 * radians) / Math.PI;
  return { candidates, azimuthsDeg, turnDeg: { value: inDegrees(turn.value), sd: inDegrees(turn.sd) } };
}

/** What stands around a mode that is described. */
interface Surroundings {
  readonly azimuthsDeg: readonly number[];
  readonly strikes: readonly StrikeLines[];
  readonly modes: readonly GatheredMode[];
  readonly clusters: readonly PoleCluster[];
}

/** A gathered mode as a judged candidate. */
export function describeMode(
  mode: GatheredMode,
  { azimuthsDeg, strikes, modes, clusters }: Surroundings,
): ModeCandidate {
  const { value, sd } = mode.frequencyHz;
  const relative = mode.sightings.map(({ strike, amplitude }) => {
    const rivals = modes
      .filter((other) => other.plane === mode.plane)
      .flatMap((other) => other.sightings.filter((sighting) => sighting.strike === strike));
    return amplitude / Math.max(amplitude, ...rivals.map((rival) => rival.amplitude));
  });
  const reach = Math.max(SAME_POLE_SHARE * value, SAME_POLE_SDS * sd);
  const orders = Math.max(
    0,
    ...clusters
      .filter(({ frequencyHz }) => Math.abs(frequencyHz - value) < reach)
      .map((cluster) => cluster.orders),
  );
  const shapeRatios = measureShape(mode);
  return {
    plane: mode.plane,
    azimuthDeg: azimuthsDeg[mode.plane]!,
    frequencyHz: mode.frequencyHz,
    dampingRatio: mode.dampingRatio,
    prominenceDb: mode.prominenceDb,
    strikes: mode.sightings.length,
    relativeAmplitude: Math.max(...relative),
    orders,
    ...(shapeRatios.length > 0 && { shapeRatios }),
    ...judgeMode(mode, { strikes, others: modes, orders }),
  };
}
