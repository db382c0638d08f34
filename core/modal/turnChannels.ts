import type { ComplexLines } from './responseLines.ts';
import type { StrikeLines } from './strikeLines.ts';

/** Two perpendicular channels of one sensor: turning them by an angle gives the response along turned axes. */
export interface ChannelPair {
  readonly first: number;
  readonly second: number;
  /** 1 where the second axis lies 90 degrees on from the first in the sense of azimuths, -1 where it lies back. */
  readonly sense: 1 | -1;
}

/** Two axes of one sensor are perpendicular within its making; a pair beyond this is no pair. */
const SQUARE_TOLERANCE_DEG = 3;

/** Channels at one height that are perpendicular to each other, each in one pair at most. */
export function pairChannels({ segment, planes }: Pick<StrikeLines, 'segment' | 'planes'>): ChannelPair[] {
  const { azimuthsDeg, heightsM } = segment;
  const taken = new Set<number>();
  const pairs: ChannelPair[] = [];
  azimuthsDeg.forEach((azimuth, first) => {
    if (taken.has(first)) return;
    const second = azimuthsDeg.findIndex((other, c) => {
      const apart = (((other - azimuth) % 180) + 180) % 180;
      const isSquare = Math.abs(apart - 90) < SQUARE_TOLERANCE_DEG;
      return (
        c > first &&
        !taken.has(c) &&
        planes[c] !== planes[first] &&
        isSquare &&
        heightsM?.[c] === heightsM?.[first]
      );
    });
    if (second < 0) return;
    taken.add(first).add(second);
    const sense = Math.sin(((azimuthsDeg[second]! - azimuth) * Math.PI) / 180) > 0 ? 1 : -1;
    pairs.push({ first, second, sense });
  });
  return pairs;
}

/** The strike as channels along axes turned by `turnRad` in the sense of azimuths; unpaired channels stay. */
export function turnChannels(strike: StrikeLines, turnRad: number): StrikeLines {
  const channels: ComplexLines[] = [...strike.lines.channels];
  for (const { first, second, sense } of pairChannels(strike)) {
    const a = strike.lines.channels[first]!;
    const b = strike.lines.channels[second]!;
    const cos = Math.cos(turnRad);
    const sin = sense * Math.sin(turnRad);
    channels[first] = mix(a, b, cos, sin);
    channels[second] = mix(b, a, cos, -sin);
  }
  return { ...strike, lines: { ...strike.lines, channels } };
}

function mix(a: ComplexLines, b: ComplexLines, ofA: number, ofB: number): ComplexLines {
  return { re: mixColumns(a.re, b.re, ofA, ofB), im: mixColumns(a.im, b.im, ofA, ofB) };
}

/** ofA a + ofB b. */
export function mixColumns(a: Float64Array, b: Float64Array, ofA: number, ofB: number): Float64Array {
  const mixed = new Float64Array(a.length);
  for (let i = 0; i < mixed.length; i++) mixed[i] = ofA * a[i]! + ofB * b[i]!;
  return mixed;
}
