import type { CalibratedRecording } from '../recording/index.ts';

/** Two axes of one sensor are perpendicular within its making; channels beyond this are no pair. */
const SQUARE_TOLERANCE_DEG = 3;
const RIGHT_ANGLE_DEG = 90;

/**
 * The recording as sensed along axes turned by `turnDeg` in the sense of azimuths: each two perpendicular channels at one
 * height are mixed, others stay.
 */
export function turnRecording(recording: CalibratedRecording, turnDeg: number): CalibratedRecording {
  const channels = [...recording.channels];
  const taken = new Set<number>();
  recording.channels.forEach((first, i) => {
    const j = recording.channels.findIndex(
      (second, k) =>
        k > i &&
        !taken.has(k) &&
        second.heightM === first.heightM &&
        isSquare(first.azimuthDeg, second.azimuthDeg),
    );
    if (taken.has(i) || j < 0) return;
    taken.add(i).add(j);
    const second = recording.channels[j]!;
    const angle = (turnDeg * Math.PI) / 180;
    const sense = Math.sin(((second.azimuthDeg - first.azimuthDeg) * Math.PI) / 180) > 0 ? 1 : -1;
    const [cos, sin] = [Math.cos(angle), sense * Math.sin(angle)];
    channels[i] = {
      ...first,
      azimuthDeg: first.azimuthDeg + turnDeg,
      samplesMPerS2: mix(first.samplesMPerS2, second.samplesMPerS2, cos, sin),
    };
    channels[j] = {
      ...second,
      azimuthDeg: second.azimuthDeg + turnDeg,
      samplesMPerS2: mix(second.samplesMPerS2, first.samplesMPerS2, cos, -sin),
    };
  });
  return { ...recording, channels };
}

function isSquare(a: number, b: number): boolean {
  const apart = Math.abs(((((b - a) % 180) + 180) % 180) - RIGHT_ANGLE_DEG);
  return apart < SQUARE_TOLERANCE_DEG;
}

/** ofA a + ofB b. */
function mix(a: Float64Array, b: Float64Array, ofA: number, ofB: number): Float64Array {
  const mixed = new Float64Array(a.length);
  for (let i = 0; i < mixed.length; i++) mixed[i] = ofA * a[i]! + ofB * b[i]!;
  return mixed;
}
