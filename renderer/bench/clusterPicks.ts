import type { Cluster, Stabilisation } from '../types.ts';
import { MODE_NUMBERS, type PickRow } from './pickRows.ts';

/** A pole rings along a plane from this share of its energy on; one between the planes shows in both. */
const SHOWN_SHARE = 0.25;
/** A pick nearer than this share of a frequency stands at it. */
const SAME_SHARE = 0.01;

/** What a plane shares with other planes, poles as well as clusters of them. */
export function ringsAlong(pole: { planeShares: readonly number[] }, plane: number): boolean {
  return (pole.planeShares[plane] ?? 0) >= SHOWN_SHARE;
}

/** Clusters that ring along a plane, lowest first. */
export function clustersOfPlane({ clusters }: Stabilisation, plane: number): Cluster[] {
  return clusters
    .filter((cluster) => ringsAlong(cluster, plane))
    .sort((a, b) => a.frequencyHz - b.frequencyHz);
}

/** The pick of a plane that stands at a frequency. */
export function pickAt(rows: readonly PickRow[], plane: number, frequencyHz: number): PickRow | undefined {
  return rows.find(
    (row) =>
      row.plane === plane &&
      row.frequencyHz !== null &&
      Math.abs(row.frequencyHz - frequencyHz) <= SAME_SHARE * frequencyHz,
  );
}

/**
 * The mode number that a pick at a frequency would get: that of the pick that stands there, else the lowest that is
 * free and keeps the frequencies of the plane in the order of their numbers.
 * @returns null where no number is free there
 */
export function suggestNumber(rows: readonly PickRow[], plane: number, frequencyHz: number): number | null {
  const standing = pickAt(rows, plane, frequencyHz);
  if (standing) return standing.number;
  const picks = rows.filter((row) => row.plane === plane && row.frequencyHz !== null);
  const fits = (number: number) =>
    picks.every((row) => row.number !== number && row.number < number === row.frequencyHz! < frequencyHz);
  return MODE_NUMBERS.find(fits) ?? null;
}
