import { InputError } from '../errors.ts';
import { chooseRecordLength, computeResponseLines, type ResponseLines } from './responseLines.ts';
import type { StrikeSegment } from './strikeSegment.ts';

/** A strike as spectral lines from the first above 0 Hz up to the highest frequency that is looked at. */
export interface StrikeLines {
  readonly segment: StrikeSegment;
  readonly lines: ResponseLines;
  /** Distance of lines; 1 / duration. */
  readonly spacingHz: number;
  readonly durationS: number;
  /** Plane of each channel, an index into the planes of the visit. */
  readonly planes: readonly number[];
}

/**
 * Azimuths closer than this, modulo 180 degrees, are one plane: finer than a sensor is strapped to a pole.
 */
const SAME_PLANE_DEG = 5;
/** The shortest ring-down in which low bands have lines enough to fit. */
const FEWEST_SAMPLES = 256;
/**
 * A fit may find its lines quieter than the recording before the blow, whose noise need not be white, but not
 * by more than this share of its amplitude: below lies overfitting.
 */
const QUIET_SHARE = 0.1;

/** Distinct planes of all strikes, by azimuth, in the order in which channels name them first. */
export function listPlanes(strikes: readonly StrikeSegment[]): number[] {
  const planes: number[] = [];
  for (const strike of strikes) {
    for (const azimuth of strike.azimuthsDeg) if (findPlane(planes, azimuth) < 0) planes.push(azimuth);
  }
  return planes;
}

/** Plane of each channel of a strike. */
export function assignPlanes({ azimuthsDeg }: StrikeSegment, planes: readonly number[]): number[] {
  return azimuthsDeg.map((azimuth) => findPlane(planes, azimuth));
}

function findPlane(planes: readonly number[], azimuthDeg: number): number {
  return planes.findIndex((plane) => {
    const apart = (((azimuthDeg - plane) % 180) + 180) % 180;
    return Math.min(apart, 180 - apart) < SAME_PLANE_DEG;
  });
}

/**
 * Transforms a strike to lines up to `maximumHz`.
 * @throws InputError `modal.strike` for channels of unequal or too short length, or fields that do not match
 *   them
 */
export function transformStrike(
  segment: StrikeSegment,
  planes: readonly number[],
  maximumHz: number,
): StrikeLines {
  const { channels, azimuthsDeg, noiseRms, sampleRateHz } = segment;
  const shortest = Math.min(...channels.map((channel) => channel.length));
  const longest = Math.max(...channels.map((channel) => channel.length));
  const described =
    azimuthsDeg.length === channels.length && noiseRms.length === channels.length && channels.length > 0;
  if (!described || shortest !== longest || shortest < FEWEST_SAMPLES || !(sampleRateHz > 2 * maximumHz)) {
    throw new InputError(
      'modal.strike',
      `Strike ${segment.strikeIndex} of ${segment.recording} has ${channels.length} channels of ${shortest} to ${longest} samples at ` +
        `${sampleRateHz} Hz, ${azimuthsDeg.length} azimuths, ${noiseRms.length} noise levels; equal lengths of at least ${FEWEST_SAMPLES} ` +
        `samples, one azimuth and one noise level a channel, and a rate above ${2 * maximumHz} Hz are expected.`,
      'Cut the ring-down of every channel at the same two instants, or lower the highest frequency.',
    );
  }
  const length = chooseRecordLength(shortest);
  const spacingHz = sampleRateHz / length;
  const transformed = channels.map((channel) => computeResponseLines(channel, sampleRateHz, maximumHz));
  return {
    segment,
    spacingHz,
    durationS: length / sampleRateHz,
    planes: assignPlanes(segment, planes),
    lines: {
      frequenciesHz: listFrequencies(transformed[0]!.re.length, spacingHz),
      channels: transformed,
      sampleRateHz,
      cornerHz: segment.cornerHz,
      noisePower: noiseRms.map((rms) => length * (QUIET_SHARE * rms) ** 2),
    },
  };
}

/** The lines between two frequencies, as views. */
export function cutBand(strike: StrikeLines, lowHz: number, highHz: number): ResponseLines {
  const { lines, spacingHz } = strike;
  const from = Math.max(0, Math.round(lowHz / spacingHz) - 1);
  const to = Math.min(lines.frequenciesHz.length, Math.round(highHz / spacingHz));
  return {
    ...lines,
    frequenciesHz: lines.frequenciesHz.subarray(from, to),
    channels: lines.channels.map(({ re, im }) => ({ re: re.subarray(from, to), im: im.subarray(from, to) })),
  };
}

/** Of lines above 0 Hz. */
function listFrequencies(count: number, spacingHz: number): Float64Array {
  const frequenciesHz = new Float64Array(count);
  for (let k = 0; k < count; k++) frequenciesHz[k] = (k + 1) * spacingHz;
  return frequenciesHz;
}
