const FULL_TURN_DEG = 360;

/** A direction as a compass reads it, 0 to 359 whole degrees: `359°` for -1. */
export function nameAzimuth(azimuthDeg: number): string {
  return `${((Math.round(azimuthDeg) % FULL_TURN_DEG) + FULL_TURN_DEG) % FULL_TURN_DEG}°`;
}
