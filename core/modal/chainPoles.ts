import type { OrderedPole } from './commonDenominator.ts';

/**
 * What a pole keeps of one at the order below: `new` nothing, `frequency` its frequency only, `damping` its
 * frequency and damping, `holds` these and its direction.
 */
export type PoleStatus = 'new' | 'frequency' | 'damping' | 'holds';

export interface ChainedPole {
  readonly order: number;
  readonly highestOrder: number;
  readonly frequencyHz: number;
  readonly dampingRatio: number;
  readonly planeShares: number[];
  readonly status: PoleStatus;
  /** Number common to a pole and those that follow it at higher orders. */
  readonly chain: number;
}

/**
 * How little a pole may move from order to order: a share of the frequency and of the damping (common practice,
 * no source), and a share of energy between the planes (ours: 18 degrees).
 */
const FREQUENCY_SHARE = 0.005;
const DAMPING_SHARE = 0.25;
const PLANE_SHARE = 0.1;
/** Poles further apart than this are never one; also where one order lacks it, the next may take it up again. */
const LARGEST_SHARE = 0.01;
const ORDERS_MISSED = 3;

/** Follows poles from order to order, the nearest in frequency and direction first. */
export function chainPoles(
  poles: readonly OrderedPole[],
  highestOrder: number,
  sharePlanes: (residues: OrderedPole['residues']) => number[],
): ChainedPole[] {
  const chained: ChainedPole[] = [];
  /** Last pole of each chain. */
  const ends: ChainedPole[] = [];
  for (let order = 1; order <= highestOrder; order++) {
    const fresh = poles
      .filter((pole) => pole.order === order)
      .map(({ decayRate, angularFrequency, residues }) => {
        const modulus = Math.hypot(decayRate, angularFrequency);
        return {
          frequencyHz: modulus / (2 * Math.PI),
          dampingRatio: decayRate / modulus,
          planeShares: sharePlanes(residues),
        };
      });
    const links = fresh
      .flatMap((pole, i) =>
        ends
          .filter((end) => order - end.order <= ORDERS_MISSED)
          .map((end) => ({ i, end, distance: measureDistance(pole, end) })),
      )
      .filter(({ distance }) => distance < 1)
      .sort((a, b) => a.distance - b.distance);
    const followed = new Set<ChainedPole>();
    const linked = new Map<number, ChainedPole>();
    for (const { i, end } of links) {
      if (linked.has(i) || followed.has(end)) continue;
      linked.set(i, end);
      followed.add(end);
    }
    fresh.forEach((pole, i) => {
      const end = linked.get(i);
      const next: ChainedPole = {
        ...pole,
        order,
        highestOrder,
        status: end === undefined ? 'new' : compare(pole, end),
        chain: end?.chain ?? ends.length,
      };
      ends[next.chain] = next;
      chained.push(next);
    });
  }
  return chained;
}

type Comparable = Pick<ChainedPole, 'frequencyHz' | 'dampingRatio' | 'planeShares'>;

function compare(pole: Comparable, before: Comparable): PoleStatus {
  if (Math.abs(pole.frequencyHz / before.frequencyHz - 1) > FREQUENCY_SHARE) return 'new';
  if (Math.abs(pole.dampingRatio / before.dampingRatio - 1) > DAMPING_SHARE) return 'frequency';
  return shareApart(pole, before) > PLANE_SHARE ? 'damping' : 'holds';
}

function shareApart(a: Comparable, b: Comparable): number {
  return Math.max(...a.planeShares.map((share, p) => Math.abs(share - b.planeShares[p]!)));
}

/** 1 and more: not the same. Planes of a pole may lie nearer in frequency than one of them moves. */
function measureDistance(a: Comparable, b: Comparable): number {
  return Math.hypot((a.frequencyHz / b.frequencyHz - 1) / LARGEST_SHARE, shareApart(a, b));
}
