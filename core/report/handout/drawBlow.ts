import { scaleLinear, scaleLog } from 'd3-scale';
import { formatNumber } from '../../formatNumbers.ts';
import { nameAzimuth } from '../../nameAzimuth.ts';
import { type Markup, markup } from '../markup.ts';
import { drawEnvelope } from '../plots/drawEnvelope.ts';
import { planeStyle } from '../plots/planeMark.ts';
import {
  drawBottomAxis,
  drawFigure,
  drawLeftAxis,
  drawPath,
  labelTicks,
  PLOT_WIDTH,
  type PlotBox,
  roundCoordinate,
} from '../plots/plotFrame.ts';
import type { ReportWaveform } from '../reportInput.ts';
import type { HandoutBlow, HandoutMark, HandoutPictures } from './handoutInput.ts';

const LEFT = 62;
const RIGHT = PLOT_WIDTH - 8;
const MIDDLE_GAP = 62;
/** The first moments take a third of the width: that is where blows go wrong. */
const START_SHARE = 0.36;
const TOP = 18;
const CHANNEL_HEIGHT = 44;
const CHANNEL_GAP = 20;
const ABOVE_SPECTRUM = 46;
const SPECTRUM_HEIGHT = 92;
const BELOW_AXIS = 34;
/** Levels further below the greatest are drawn at the bottom: 60 dB. */
const DYNAMIC_RANGE = 1e3;
/** Marks nearer to each other than this share their words. */
const LABEL_ROOM = 90;
const LEAST_MARK_WIDTH = 1.5;

type Scale = (value: number) => number;

/** One blow for the eye: its first moments and its ring-down, a strip each axis, and its spectrum, with the faults marked. */
export function drawBlow(blow: HandoutBlow, pictures: HandoutPictures): Markup {
  const { start, whole, spectrum, marks } = pictures;
  const splitX = LEFT + START_SHARE * (RIGHT - LEFT);
  const strips = (waveform: ReportWaveform, left: number, right: number, axisTitle: string) =>
    drawStrips(waveform, left, right, marks, axisTitle);
  const bottom = TOP + whole.channels.length * (CHANNEL_HEIGHT + CHANNEL_GAP) - CHANNEL_GAP;
  const spectrumTop = bottom + ABOVE_SPECTRUM;
  const box: PlotBox = { left: LEFT, right: RIGHT, top: spectrumTop, bottom: spectrumTop + SPECTRUM_HEIGHT };
  return drawFigure(
    box.bottom + BELOW_AXIS,
    `Blow ${blow.number}: waveform of ${whole.channels.length} axes and amplitude spectrum${marks.length > 0 ? `, ${marks.length} places marked` : ''}.`,
    markup`${strips(start, LEFT, splitX, 'first moments, s')}${strips(whole, splitX + MIDDLE_GAP, RIGHT, 'whole ring-down, s')}${drawSpectrum(box, spectrum, marks)}`,
    markup`Above: acceleration in m/s², one strip for each axis of the sensor, time from the blow. Below: amplitude spectrum, logarithmic, the second axis dashed.`,
  );
}

function drawStrips(
  waveform: ReportWaveform,
  left: number,
  right: number,
  marks: readonly HandoutMark[],
  title: string,
): Markup {
  const { timesS, channels } = waveform;
  // the last column has a width too, at the end of which a recording ends
  const endS = 2 * timesS[timesS.length - 1]! - timesS[timesS.length - 2]!;
  const x = scaleLinear([timesS[0]!, endS], [left, right]);
  let greatest = 1e-9;
  for (const { low, high } of channels) {
    for (let i = 0; i < high.length; i++) greatest = Math.max(greatest, high[i]!, -low[i]!);
  }
  const bottom = TOP + channels.length * (CHANNEL_HEIGHT + CHANNEL_GAP) - CHANNEL_GAP;
  const drawn = channels.map((channel, c) => {
    const top = TOP + c * (CHANNEL_HEIGHT + CHANNEL_GAP);
    const box: PlotBox = { left, right, top, bottom: top + CHANNEL_HEIGHT };
    const y = scaleLinear([-greatest, greatest], [box.bottom, box.top]);
    const ticks = [-greatest, greatest].map((value) => ({ at: y(value), label: formatNumber(value, 2) }));
    const own = marks.filter(
      ({ channel: of, timeS, frequencyHz }) => (of === null || of === c) && (timeS || !frequencyHz),
    );
    return markup`${drawLeftAxis(box, { title: nameAzimuth(channel.azimuthDeg), ticks }, left - 46)}${drawMarks(own, x, box, ({ timeS }) => timeS ?? [x.domain()[0]!, x.domain()[1]!])}<path d="${drawEnvelope(timesS, channel, x, y)}" fill="${planeStyle(c).color}" stroke="${planeStyle(c).color}" stroke-width="0.4"/>`;
  });
  const whole: PlotBox = { left, right, top: TOP, bottom };
  return markup`${drawBottomAxis(whole, { title, ticks: labelTicks(x.ticks(5), x) })}${drawn}`;
}

function drawSpectrum(
  box: PlotBox,
  { frequenciesHz, channels }: HandoutPictures['spectrum'],
  marks: readonly HandoutMark[],
): Markup {
  const x = scaleLinear([0, frequenciesHz[frequenciesHz.length - 1]!], [box.left, box.right]);
  let greatest = Number.MIN_VALUE;
  for (const { values } of channels) {
    for (let i = 0; i < values.length; i++) greatest = Math.max(greatest, values[i]!);
  }
  const least = greatest / DYNAMIC_RANGE;
  const y = scaleLog([least, greatest], [box.bottom, box.top]);
  const ticks = [1, 10, 100, 1000].map((factor) => {
    const value = 10 ** Math.floor(Math.log10(greatest)) / factor;
    return { at: y(Math.max(value, least)), label: value < least ? '' : formatNumber(value, 1) };
  });
  const curves = channels.map(({ values }, c) => {
    const points = Array.from(frequenciesHz, (hz, i): [number, number] => [
      x(hz),
      y(Math.max(values[i]!, least)),
    ]);
    return markup`<path class="trace" d="${drawPath(points)}" stroke="${planeStyle(c).color}"${c > 0 && markup` stroke-dasharray="5 3"`}/>`;
  });
  const bands = drawMarks(
    marks.filter(({ frequencyHz, timeS }) => frequencyHz !== null && timeS === null),
    x,
    box,
    ({ frequencyHz }) => frequencyHz!,
  );
  return markup`${drawBottomAxis(box, { title: 'frequency, Hz', ticks: labelTicks(x.ticks(12), x) })}${drawLeftAxis(box, { title: 'm/s²', ticks }, 14)}${bands}${curves}`;
}

/** Marks along an axis, those beyond it left out; where two are close, the words of the first stand for both. */
function drawMarks(
  marks: readonly HandoutMark[],
  x: Scale & { domain(): number[] },
  box: PlotBox,
  spanOf: (mark: HandoutMark) => readonly [number, number],
): Markup[] {
  const [first, last] = x.domain() as [number, number];
  let labelledTo = Number.NEGATIVE_INFINITY;
  return marks
    .map((mark) => ({ mark, span: spanOf(mark) }))
    .filter(({ span: [from, to] }) => to >= first && from <= last)
    .sort((a, b) => a.span[0] - b.span[0])
    .map(({ mark, span: [from, to] }) => {
      const fromX = x(Math.max(from, first));
      const width = Math.max(x(Math.min(to, last)) - fromX, LEAST_MARK_WIDTH);
      const isLabelled = fromX > labelledTo;
      if (isLabelled) labelledTo = fromX + LABEL_ROOM;
      // words that would run over the edge end at the mark instead
      const isLate = fromX + LABEL_ROOM > box.right;
      return markup`<rect class="fault" x="${roundCoordinate(fromX)}" y="${box.top}" width="${roundCoordinate(width)}" height="${box.bottom - box.top}"/>${isLabelled && markup`<text class="note" x="${roundCoordinate(isLate ? fromX + width : fromX)}" y="${box.top - 3}" text-anchor="${isLate ? 'end' : 'start'}">${mark.words}</text>`}`;
    });
}
