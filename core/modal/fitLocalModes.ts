import { correctDampingForWindow } from '../signal/index.ts';
import { scaled } from '../vectors.ts';
import { computeShifts, type FittedPole, fitPoles, type PoleFit } from './fitPoles.ts';
import { type Band, pickChannels, prepareBand } from './prepareBand.ts';
import type { ResponseLines } from './responseLines.ts';
import { cutBand, type StrikeLines } from './strikeLines.ts';
import type { MeasuredValue } from './strikeSegment.ts';
import { pairChannels } from './turnChannels.ts';

/**
 * Where to look: the band's middle, the peak's half width, and the stretch whose poles belong to this middle.
 */
export interface Neighbourhood {
  readonly frequencyHz: number;
  readonly halfWidthHz: number;
  /** Height of the peak over the floor around it. */
  readonly heightDb: number;
  readonly fromHz: number;
  readonly toHz: number;
}

/** Residue of a mode in one channel, with the standard deviation of its complex error, and the channel's height. */
export interface ChannelShare {
  readonly heightM: number;
  readonly re: number;
  readonly im: number;
  readonly sd: number;
}

/** One mode in one plane, as one strike shows it. */
export interface Sighting {
  readonly strike: StrikeLines;
  readonly plane: number;
  readonly frequencyHz: MeasuredValue;
  readonly dampingRatio: MeasuredValue;
  /**
   * Move of either quantity when the axes are turned by one standard deviation of their direction, by what then
   * leaks in from the other plane; signed, and alike in all strikes.
   */
  readonly leakage: { readonly frequencyHz: number; readonly dampingRatio: number };
  readonly peakDb: number;
  /** First amplitude of the decay, m/s2. */
  readonly amplitude: number;
  /** By channel of the plane, with signs as of the plane's own azimuth; none where heights are not told. */
  readonly shares: readonly ChannelShare[];
  /** The same frequency rings at least as much in another plane, so it may be that plane's mode seen here. */
  readonly isEcho: boolean;
}

/**
 * Half width of a band in lines on either side, and in half-power widths of the peak: a fit gains little
 * further out.
 */
const BAND_LINES = 8;
const BAND_WIDTHS = 6;
/**
 * Beyond this share of its frequency a band would reach neighbours; beyond so many lines it costs time for
 * nothing.
 */
const BAND_SHARE = 0.3;
const MOST_HALF_LINES = 100;
const FEWEST_LINES = 10;
/** Two planes, and a line of mains hum or a cable beside them. */
const MOST_POLES = 3;
/** A sighting stands this far over the noise of a line. */
const LEAST_SIGHT_DB = 8;
/**
 * A frequency that rings in two planes counts in both if the smaller amplitude is this share of the larger:
 * beyond 18 degrees of turn.
 */
const ECHO_SHARE = 1 / 3;
const NO_LEAKAGE = { frequencyHz: 0, dampingRatio: 0 };
/** Two frequencies differ if they lie further apart than so many standard deviations. */
const DISTINCT_SDS = 4;
/**
 * Fits the modes of one strike near a frequency. Models compete by the information criterion of the fit: one
 * pole of its own in each plane; two or three poles that all channels share, tried while something is left to
 * explain, as when the planes are turned against the sensor. The poles of the best model that lie in the
 * neighbourhood are given to planes.
 * @param strike - along the principal axes as far as they are known
 * @param turnSd - standard deviation of their direction, radians
 * @returns none where the band has too few lines or shows nothing
 */
export function fitLocalModes(strike: StrikeLines, near: Neighbourhood, turnSd: number): Sighting[] {
  const lines = selectBand(strike, near);
  if (lines === null) return [];

  const band = prepareBand(lines);
  const all = strike.planes.map((_, c) => c);
  const planes = [...new Set(strike.planes)];
  const apart = planes.map((plane) => {
    const channels = all.filter((c) => strike.planes[c] === plane);
    return { channels, fit: fitPoles(pickChannels(band, channels), 1) };
  });
  let lowest = apart.reduce((sum, { fit }) => sum + fit.criterion, 0);
  let shared: PoleFit | null = null;
  const isExplained = apart.every(({ fit }) => fit.isWhite);
  for (let count = 2; count <= MOST_POLES && !isExplained && shared?.isWhite !== true; count++) {
    const next = fitPoles(band, count, lowest);
    if (!(next.criterion < lowest)) break;
    lowest = next.criterion;
    shared = next;
  }
  if (shared !== null) return settlePair(sightPoles(strike, near, shared.poles, all), planes);
  const sightings = apart.flatMap(({ fit, channels }) => {
    const leaks = measureLeaks(strike, band, fit, channels, turnSd);
    return sightPoles(strike, near, fit.poles, channels).map(({ sighting }) => ({
      ...sighting,
      leakage: leaks,
    }));
  });
  return dropLeaks(sightings);
}

/**
 * What the pole of one plane moves by when the axes are off by one standard deviation: the other axis' response
 * leaks in.
 */
function measureLeaks(
  strike: StrikeLines,
  band: Band,
  fit: PoleFit,
  channels: readonly number[],
  turnSd: number,
): Sighting['leakage'] {
  const pairs = pairChannels(strike);
  const leaking = channels.map((c) => {
    const pair = pairs.find(({ first, second }) => first === c || second === c);
    if (pair === undefined) return new Float64Array(band.remainders[c]!.length);
    const isFirst = pair.first === c;
    const share = (isFirst ? pair.sense : -pair.sense) * turnSd;
    return scaled(band.remainders[isFirst ? pair.second : pair.first]!, share);
  });
  return computeShifts(pickChannels(band, channels), fit, leaking)[0] ?? NO_LEAKAGE;
}

/** The lines around a neighbourhood's middle that a fit looks at; null where they are too few. */
export function selectBand(
  strike: StrikeLines,
  near: Neighbourhood,
  mostHalfLines = MOST_HALF_LINES,
): ResponseLines | null {
  const spacing = strike.spacingHz;
  const wide = BAND_WIDTHS * near.halfWidthHz + BAND_LINES * spacing;
  const half = Math.min(
    Math.max(BAND_LINES * spacing, Math.min(wide, BAND_SHARE * near.frequencyHz)),
    mostHalfLines * spacing,
  );
  const lines = cutBand(strike, near.frequencyHz - half, near.frequencyHz + half);
  return lines.frequenciesHz.length < FEWEST_LINES ? null : lines;
}

interface Sighted {
  readonly sighting: Sighting;
  /** First amplitude by plane of the strike. */
  readonly amplitudes: ReadonlyMap<number, number>;
}

function sightPoles(
  strike: StrikeLines,
  near: Neighbourhood,
  poles: readonly FittedPole[],
  channels: readonly number[],
): Sighted[] {
  return poles.flatMap((pole) => {
    const { value, sd } = pole.frequencyHz;
    if (!(value >= near.fromHz && value < near.toHz) || !(pole.decayRate > 0) || !Number.isFinite(sd))
      return [];
    const amplitudes = measureAmplitudes(strike, pole, channels);
    const [plane, amplitude] = [...amplitudes].reduce((a, b) => (b[1] > a[1] ? b : a));
    const peakDb = Math.max(...pole.peakDb.filter((_, i) => strike.planes[channels[i]!] === plane));
    if (!(peakDb >= LEAST_SIGHT_DB)) return [];
    const sighting = {
      strike,
      plane,
      frequencyHz: pole.frequencyHz,
      dampingRatio: takeWindowOff(pole, strike.segment.exponentialWindowS),
      leakage: NO_LEAKAGE,
      peakDb,
      amplitude,
      shares: listShares(strike, pole, plane, channels),
      isEcho: false,
    };
    return [{ sighting, amplitudes }];
  });
}

/** Damping of a pole less what an exponential window added; the frequency moves by less than its square. */
function takeWindowOff(
  { dampingRatio, frequencyHz }: FittedPole,
  timeConstantS: number | undefined,
): MeasuredValue {
  if (timeConstantS === undefined) return dampingRatio;
  const value = correctDampingForWindow(dampingRatio.value, frequencyHz.value, timeConstantS);
  return { value, sd: dampingRatio.sd };
}

/**
 * Largest first amplitude in each plane: a residue holds 1 - z^N of it, and the real decay is the pole with
 * its conjugate.
 */
function measureAmplitudes(
  strike: StrikeLines,
  pole: FittedPole,
  channels: readonly number[],
): Map<number, number> {
  const left = Math.exp(-pole.decayRate * strike.durationS);
  const angle = pole.angularFrequency * strike.durationS;
  const kept = Math.hypot(1 - left * Math.cos(angle), left * Math.sin(angle));
  const amplitudes = new Map<number, number>();
  channels.forEach((c, i) => {
    const { re, im } = pole.residues[i]!;
    const plane = strike.planes[c]!;
    amplitudes.set(plane, Math.max(amplitudes.get(plane) ?? 0, (2 * Math.hypot(re, im)) / kept));
  });
  return amplitudes;
}

function listShares(
  { segment, planes }: StrikeLines,
  pole: FittedPole,
  plane: number,
  channels: readonly number[],
): ChannelShare[] {
  const { heightsM, azimuthsDeg } = segment;
  if (heightsM === undefined) return [];
  const first = azimuthsDeg[planes.indexOf(plane)]!;
  return channels.flatMap((c, i) => {
    if (planes[c] !== plane) return [];
    const sign = Math.cos(((azimuthsDeg[c]! - first) * Math.PI) / 180) < 0 ? -1 : 1;
    const { re, im } = pole.residues[i]!;
    // peakDb is the residue's energy over the noise of a line
    const sd = Math.hypot(re, im) * 10 ** (-pole.peakDb[i]! / 20);
    return [{ heightM: heightsM[c]!, re: sign * re, im: sign * im, sd }];
  });
}

/**
 * Two poles that both ring more in one plane belong to one plane each where the weaker tie leaves room for
 * it.
 */
function settlePair(sighted: readonly Sighted[], planes: readonly number[]): Sighting[] {
  const sightings = sighted.map(({ sighting }) => sighting);
  const [a, b] = sightings;
  if (
    a === undefined ||
    b === undefined ||
    sightings.length !== 2 ||
    a.plane !== b.plane ||
    planes.length !== 2
  )
    return sightings;
  const other = planes.find((plane) => plane !== a.plane)!;
  const there = sighted.map(({ amplitudes }) => amplitudes.get(other)!);
  const moved = there[0]! / a.amplitude > there[1]! / b.amplitude ? 0 : 1;
  if (there[moved]! < ECHO_SHARE * sightings[moved]!.amplitude) return sightings;
  return sightings.map((sighting, i) =>
    i === moved ? { ...sighting, plane: other, amplitude: there[i]! } : sighting,
  );
}

/**
 * Among poles fitted plane by plane, a weak one at the frequency of a strong one is its leak; one that is not
 * so weak may be a mode of its own.
 */
function dropLeaks(sightings: readonly Sighting[]): Sighting[] {
  return sightings.flatMap((sighting) => {
    const strongest = sightings.reduce((a, b) => (b.amplitude > a.amplitude ? b : a));
    if (sighting === strongest) return [sighting];
    const apart = Math.abs(sighting.frequencyHz.value - strongest.frequencyHz.value);
    if (apart > DISTINCT_SDS * Math.hypot(sighting.frequencyHz.sd, strongest.frequencyHz.sd))
      return [sighting];
    return sighting.amplitude < ECHO_SHARE * strongest.amplitude ? [] : [{ ...sighting, isEcho: true }];
  });
}
