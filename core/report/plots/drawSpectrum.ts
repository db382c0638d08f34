import { scaleLinear, scaleLog } from 'd3-scale';
import type { AssessedMode } from '../../assessment.ts';
import { formatNumber } from '../../formatNumbers.ts';
import { nameAzimuth } from '../../nameAzimuth.ts';
import { type Markup, markup } from '../markup.ts';
import type { ReportSpectrum } from '../reportInput.ts';
import { drawPlaneMark, planeStyle } from './planeMark.ts';
import {
  drawBottomAxis,
  drawFigure,
  drawLeftAxis,
  drawPath,
  labelTicks,
  PLOT_WIDTH,
  type PlotBox,
  roundCoordinate,
} from './plotFrame.ts';

const LEFT = 62;
const RIGHT = PLOT_WIDTH - 8;
const TOP = 24;
const CHANNEL_HEIGHT = 82;
const CHANNEL_GAP = 24;
const BELOW_AXIS = 34;
/** Room above the highest pick, as a factor, so that the next peak is seen too. */
const SPAN_ABOVE_PICKS = 1.5;
const LEAST_SPAN_HZ = 20;
/** Levels further below the greatest are drawn at the bottom: 60 dB holds every peak that the chain proposes. */
const DYNAMIC_RANGE = 1e3;
const HALF_TURN_DEG = 180;

/**
 * Amplitude spectrum of one strike, a panel for each channel, the picks of the bending plane nearest to it marked
 * by the plane's shape and the mode's number.
 */
export function drawSpectrum(spectrum: ReportSpectrum, modes: readonly AssessedMode[]): Markup {
  const { frequenciesHz, channels } = spectrum;
  const highestHz = frequenciesHz[frequenciesHz.length - 1] ?? LEAST_SPAN_HZ;
  const highestPickHz = Math.max(0, ...modes.map((mode) => mode.frequencyHz.value));
  const spanHz = Math.min(highestHz, Math.max(LEAST_SPAN_HZ, SPAN_ABOVE_PICKS * highestPickHz));
  const x = scaleLinear([0, spanHz], [LEFT, RIGHT]);
  const panels = channels.map((channel, i) => {
    const top = TOP + i * (CHANNEL_HEIGHT + CHANNEL_GAP);
    const box: PlotBox = { left: LEFT, right: RIGHT, top, bottom: top + CHANNEL_HEIGHT };
    const picks = modes.filter((mode) => nearestChannel(mode.azimuthDeg, spectrum) === i);
    return drawPanel(box, x, spanHz, frequenciesHz, channel, i, picks);
  });
  const bottom = TOP + channels.length * (CHANNEL_HEIGHT + CHANNEL_GAP) - CHANNEL_GAP;
  const box: PlotBox = { left: LEFT, right: RIGHT, top: bottom, bottom };
  return drawFigure(
    bottom + BELOW_AXIS,
    `Amplitude spectrum of strike ${spectrum.strike + 1} in ${spectrum.recording}, ${modes.length} mode picks marked.`,
    markup`${panels}${drawBottomAxis(box, { title: 'frequency, Hz', ticks: labelTicks(x.ticks(12), x) })}`,
    markup`<b>${spectrum.recording}, strike ${spectrum.strike + 1}.</b> Amplitude in ${spectrum.unit}, logarithmic; window: ${spectrum.window}. A mark and number above a panel is a mode pick of that plane: 1 is the lowest bending mode.`,
  );
}

function drawPanel(
  box: PlotBox,
  x: (value: number) => number,
  spanHz: number,
  frequenciesHz: ArrayLike<number>,
  channel: ReportSpectrum['channels'][number],
  index: number,
  picks: readonly AssessedMode[],
): Markup {
  let greatest = 0;
  for (let i = 0; i < frequenciesHz.length; i++) {
    if (frequenciesHz[i]! <= spanHz && channel.values[i]! > greatest) greatest = channel.values[i]!;
  }
  if (greatest === 0) greatest = 1;
  const least = greatest / DYNAMIC_RANGE;
  const y = scaleLog([least, greatest], [box.bottom, box.top]);
  const points: [number, number][] = [];
  for (let i = 0; i < frequenciesHz.length && frequenciesHz[i]! <= spanHz; i++) {
    const level = channel.values[i]!;
    if (Number.isFinite(level)) points.push([x(frequenciesHz[i]!), y(Math.max(level, least))]);
  }
  const ticks = listDecades(least, greatest).map((value) => ({
    at: y(value),
    label: formatNumber(value, 1),
  }));
  const marks = picks.map((pick) => {
    const at = roundCoordinate(x(pick.frequencyHz.value));
    return markup`<line class="pick" x1="${at}" x2="${at}" y1="${box.top - 4}" y2="${box.bottom}"/>${drawPlaneMark(pick.plane, at, box.top - 9, 5)}<text class="pick-number" x="${at + 8}" y="${box.top - 5}">${pick.number}</text>`;
  });
  return markup`${drawLeftAxis(box, { title: nameAzimuth(channel.azimuthDeg), ticks }, 14)}<line class="rule" x1="${box.left}" x2="${box.right}" y1="${box.bottom}" y2="${box.bottom}"/>${marks}<path class="trace" d="${drawPath(points)}" stroke="${planeStyle(index).color}"/>`;
}

function listDecades(least: number, greatest: number): number[] {
  const first = Math.ceil(Math.log10(least));
  const count = Math.floor(Math.log10(greatest)) - first + 1;
  return Array.from({ length: Math.max(count, 0) }, (_, i) => 10 ** (first + i));
}

function nearestChannel(azimuthDeg: number, spectrum: ReportSpectrum): number {
  let nearest = 0;
  let leastApartDeg = Number.POSITIVE_INFINITY;
  spectrum.channels.forEach((channel, i) => {
    // A plane has no front: azimuths half a turn apart are the same.
    const turnDeg = Math.abs(channel.azimuthDeg - azimuthDeg) % HALF_TURN_DEG;
    const apartDeg = Math.min(turnDeg, HALF_TURN_DEG - turnDeg);
    if (apartDeg < leastApartDeg) {
      leastApartDeg = apartDeg;
      nearest = i;
    }
  });
  return nearest;
}
