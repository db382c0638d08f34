import { nameAzimuth } from './nameAzimuth.ts';

/**
 * Name of a bending plane, the same in the window, on the command line and in print: its place among the planes, counted
 * from 1, and its azimuth.
 */
export function namePlane(plane: number, azimuthDeg: number): string {
  return `plane ${plane + 1} (${nameAzimuth(azimuthDeg)})`;
}
