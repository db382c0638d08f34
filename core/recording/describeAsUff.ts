import type { CalibratedRecording } from './calibrateChannels.ts';
import { UFF_AXIS, UFF_FUNCTION, type UffAxis, type UffDataset } from './uffDataset.ts';

const NO_AXIS: UffAxis = { kind: UFF_AXIS.unknown, exponents: [0, 0, 0], label: 'NONE', unit: 'NONE' };
/** Directions of the form: +X and +Y; axes that lie otherwise are scalar, and the text line tells where they point. */
const DIRECTIONS: Readonly<Record<number, number>> = { 0: 1, 90: 2 };
const SCALAR = 0;

/**
 * Describes a recording as datasets 58 for `writeUff`: a time record of acceleration in m/s2 for each channel, in
 * the order of the visit, in double precision. Azimuth, height and exciter stand in the lines of free text; the
 * step of time keeps six digits, as the form has it.
 * @param about - two lines of free text that say what was recorded, at most 80 characters of Latin-1 each
 */
export function describeAsUff(
  recording: CalibratedRecording,
  about: readonly [first: string, second: string],
): UffDataset[] {
  return recording.channels.map(({ samplesMPerS2, azimuthDeg, heightM }, c) => {
    const place = [
      `azimuth ${azimuthDeg} deg`,
      ...(heightM === null ? [] : [`height ${heightM} m`]),
      `struck by ${recording.exciter}`,
    ];
    return {
      idLines: [...about, place.join(', '), 'NONE', 'NONE'],
      functionKind: UFF_FUNCTION.timeResponse,
      functionId: 0,
      version: 0,
      loadCase: 0,
      response: { entity: 'POLE', node: c + 1, direction: DIRECTIONS[azimuthDeg] ?? SCALAR },
      reference: { entity: 'NONE', node: 0, direction: SCALAR },
      ordinateForm: 'real double',
      abscissaStart: 0,
      abscissaStep: 1 / recording.sampleRateHz,
      zValue: 0,
      abscissa: { kind: UFF_AXIS.time, exponents: [0, 0, 0], label: 'Time', unit: 's' },
      ordinate: { kind: UFF_AXIS.acceleration, exponents: [1, 0, 0], label: 'Acceleration', unit: 'm/s2' },
      denominator: NO_AXIS,
      zAxis: NO_AXIS,
      values: samplesMPerS2,
    };
  });
}
