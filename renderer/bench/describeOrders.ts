import type { DataTableContent } from '../parts/index.ts';
import type { Cluster, Stabilisation } from '../types.ts';
import { formatSignificant, namePlane } from '../words/index.ts';
import { clustersOfPlane, pickAt } from './clusterPicks.ts';
import type { PickRow, Plane } from './pickRows.ts';

const FREQUENCY_DIGITS = 4;
const DAMPING_DIGITS = 3;
/** A compared mode nearer than this share is the cluster's. */
const SAME_MODE_SHARE = 0.01;

/** What a screen reader calls the figure of model orders. */
export function nameOrders(stabilisation: Stabilisation, planes: readonly Plane[]): string {
  const words = planes.map(({ plane, azimuthDeg }) => {
    const list = clustersOfPlane(stabilisation, plane).map((c) => formatHz(c.frequencyHz));
    return `${namePlane(plane, azimuthDeg)}: ${list.length ? `${list.join(', ')} Hz` : 'none'}`;
  });
  return `Poles by frequency and model order. Those that hold, ${words.join('; ')}`;
}

/** One cluster in words: where, how damped by three roads, and over how many model orders it holds. */
export function describeCluster(stabilisation: Stabilisation, cluster: Cluster, plane: number): string {
  return `${formatHz(cluster.frequencyHz)} Hz, damping ${describeDamping(stabilisation, cluster, plane)}, ${cluster.orders} orders`;
}

function describeDamping(stabilisation: Stabilisation, cluster: Cluster, plane: number): string {
  const { fit, decay, width } = compareDamping(stabilisation, cluster, plane);
  const others = [...(decay ? [`decay ${decay}`] : []), ...(width ? [`width ${width}`] : [])];
  return others.length ? `${fit} (${others.join(', ')})` : fit;
}

/** Damping by the cluster's poles, by the slope of the decay and by the width of the peak; empty where unknown. */
function compareDamping({ damping }: Stabilisation, cluster: Cluster, plane: number) {
  const nearest = damping
    .filter((d) => d.plane === plane)
    .filter((d) => Math.abs(d.frequencyHz - cluster.frequencyHz) < SAME_MODE_SHARE * cluster.frequencyHz)
    .sort((a, b) => offset(a, cluster) - offset(b, cluster))[0];
  return {
    fit: formatShareFinely(cluster.dampingRatio),
    decay: nearest?.decay ? formatShareFinely(nearest.decay.value) : '',
    width: nearest?.halfPower ? formatShareFinely(nearest.halfPower) : '',
  };
}

function offset(a: { frequencyHz: number }, b: { frequencyHz: number }): number {
  return Math.abs(a.frequencyHz - b.frequencyHz);
}

function formatHz(frequencyHz: number): string {
  return formatSignificant(frequencyHz, FREQUENCY_DIGITS);
}

function formatShareFinely(ratio: number): string {
  return `${formatSignificant(ratio * 100, DAMPING_DIGITS)} %`;
}

/** The figure of model orders as a table of the poles that hold. */
export function tabulateOrders(
  stabilisation: Stabilisation | null,
  planes: readonly Plane[],
  rows: readonly PickRow[],
): DataTableContent {
  return {
    caption: 'Poles that hold from model order to model order',
    columns: ['Plane', 'Frequency, Hz', 'Spread, Hz', 'Orders', 'Damping', 'by decay', 'by width', 'Pick'],
    rows: !stabilisation
      ? []
      : planes.flatMap(({ plane, azimuthDeg }) =>
          clustersOfPlane(stabilisation, plane).map((cluster) => {
            const { fit, decay, width } = compareDamping(stabilisation, cluster, plane);
            const pick = pickAt(rows, plane, cluster.frequencyHz);
            return [
              `${namePlane(plane, azimuthDeg)}, ${Math.round(cluster.planeShares[plane]! * 100)} % of it`,
              formatHz(cluster.frequencyHz),
              formatSignificant(cluster.spreadHz, 2),
              `${cluster.orders} of ${Math.round(cluster.orders / cluster.standing)}`,
              fit,
              decay,
              width,
              pick ? `mode ${pick.number}, ${pick.state}` : 'none',
            ];
          }),
        ),
  };
}
