import { scaleLinear } from 'd3-scale';
import type { AssessedStrike } from '../../assessment.ts';
import { formatNumber } from '../../formatNumbers.ts';
import { nameAzimuth } from '../../nameAzimuth.ts';
import { type Markup, markup } from '../markup.ts';
import type { ReportRecording } from '../reportInput.ts';
import { drawEnvelope } from './drawEnvelope.ts';
import { planeStyle } from './planeMark.ts';
import {
  drawBottomAxis,
  drawFigure,
  drawLeftAxis,
  labelTicks,
  PLOT_WIDTH,
  type PlotBox,
  roundCoordinate,
} from './plotFrame.ts';

const LEFT = 62;
const RIGHT = PLOT_WIDTH - 8;
const TOP = 20;
const CHANNEL_HEIGHT = 54;
const CHANNEL_GAP = 13;
const BELOW_AXIS = 34;
/** Mean width of a character of a note, in plot units, with some to spare. */
const CHARACTER_WIDTH = 5.2;

type Channel = ReportRecording['waveform']['channels'][number];

/**
 * Acceleration against time, one strip a channel on one common scale, as the polygon between the least and
 * greatest sample of each column; the part of each strike that is analysed is shaded and numbered.
 * @param strikes - those of this recording, in order
 */
export function drawWaveform(recording: ReportRecording, strikes: readonly AssessedStrike[]): Markup {
  const { timesS, channels } = recording.waveform;
  const greatest = findGreatest(channels);
  const x = scaleLinear([0, recording.durationS], [LEFT, RIGHT]);
  const bottom = TOP + channels.length * (CHANNEL_HEIGHT + CHANNEL_GAP) - CHANNEL_GAP;
  const whole: PlotBox = { left: LEFT, right: RIGHT, top: TOP, bottom };
  /** In full where the next strike leaves room for it, else the number alone. */
  const labelStrike = (i: number): string => {
    const label = `strike ${i + 1}: ${strikes[i]!.verdict}`;
    const endX = i + 1 < strikes.length ? x(strikes[i + 1]!.startS) : RIGHT;
    return x(strikes[i]!.startS) + label.length * CHARACTER_WIDTH < endX ? label : String(i + 1);
  };
  const bands = strikes.map((strike, i) => {
    const startX = roundCoordinate(x(strike.startS));
    const width = roundCoordinate(Math.max(x(Math.min(strike.endS, recording.durationS)) - startX, 1));
    return markup`<rect class="band" x="${startX}" y="${TOP}" width="${width}" height="${bottom - TOP}"/><line class="strike" x1="${startX}" x2="${startX}" y1="${TOP - 4}" y2="${bottom}"/><text class="note" x="${startX + 2}" y="${TOP - 7}">${labelStrike(i)}</text>`;
  });
  const strips = channels.map((channel, i) => {
    const top = TOP + i * (CHANNEL_HEIGHT + CHANNEL_GAP);
    const box: PlotBox = { left: LEFT, right: RIGHT, top, bottom: top + CHANNEL_HEIGHT };
    const y = scaleLinear([-greatest, greatest], [box.bottom, box.top]);
    const ticks = [-greatest, 0, greatest].map((value) => ({ at: y(value), label: formatNumber(value, 2) }));
    return markup`${drawLeftAxis(box, { title: nameAzimuth(channel.azimuthDeg), ticks }, 14)}<path d="${drawEnvelope(timesS, channel, x, y)}" fill="${planeStyle(i).color}" stroke="${planeStyle(i).color}" stroke-width="0.4"/>`;
  });
  const description = `Acceleration in ${recording.file} against time, ${channels.length} channels, ${strikes.length} strikes marked.`;
  return drawFigure(
    bottom + BELOW_AXIS,
    description,
    markup`${bands}${drawBottomAxis(whole, { title: 'time, s', ticks: labelTicks(x.ticks(10), x) })}${strips}`,
    markup`<b>${recording.file}</b>, ${recording.exciter} blow. Acceleration in m/s², one strip for each axis of the sensor (azimuth at the left); shaded: the ring-down that is analysed.`,
  );
}

function findGreatest(channels: readonly Channel[]): number {
  let greatest = 0;
  for (const { low, high } of channels) {
    for (let i = 0; i < high.length; i++) {
      const size = Math.max(Math.abs(low[i]!), Math.abs(high[i]!));
      if (size > greatest && Number.isFinite(size)) greatest = size;
    }
  }
  return greatest > 0 ? greatest : 1;
}
