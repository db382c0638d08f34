import type { ReportWaveform } from '../reportInput.ts';
import { drawPath } from './plotFrame.ts';

/** Path data of the polygon between the least and greatest sample of each column; columns without both are left out. */
export function drawEnvelope(
  timesS: ArrayLike<number>,
  channel: ReportWaveform['channels'][number],
  x: (value: number) => number,
  y: (value: number) => number,
): string {
  const upper: [number, number][] = [];
  const lower: [number, number][] = [];
  for (let i = 0; i < timesS.length; i++) {
    const [low, high] = [channel.low[i]!, channel.high[i]!];
    if (!Number.isFinite(low) || !Number.isFinite(high)) continue;
    upper.push([x(timesS[i]!), y(high)]);
    lower.push([x(timesS[i]!), y(low)]);
  }
  return drawPath([...upper, ...lower.reverse()], true);
}
