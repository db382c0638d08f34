import { scaleLog } from 'd3-scale';
import type { Estimate, StemRootPicture } from '../../assessment.ts';
import { formatNumber } from '../../formatNumbers.ts';
import { traceRegions } from '../../traceRegions.ts';
import { type Markup, markup } from '../markup.ts';
import {
  drawBottomAxis,
  drawFigure,
  drawLeftAxis,
  drawPath,
  labelLogTicks,
  PLOT_WIDTH,
  type PlotBox,
  roundCoordinate,
} from './plotFrame.ts';

const BOX: PlotBox = { left: 62, right: PLOT_WIDTH - 70, top: 20, bottom: 312 };
const HEIGHT = 346;
const PASCAL_PER_GIGAPASCAL = 1e9;
/** Free room around what is drawn, as a share of the logarithmic span. */
const MARGIN_SHARE = 0.06;
/** Factor beyond the usual range up to which the picture is widened for the required modulus. */
const FURTHEST_DRAWN = 1.5;
const LINE_STYLES = ['', '5 2.5', '1.5 2.5'] as const;

/**
 * Stem against root: the credible regions of stem modulus (GPa) and fixity as contour lines, their medians with
 * intervals, what was usual before any recording, and the stem modulus at which the median capacity meets
 * the requirement.
 */
export function drawStemRoot(picture: StemRootPicture, modulusPa: Estimate, fixity: Estimate): Markup {
  const rings = traceRegions(picture);
  const x = scaleAround(
    [
      ...rings.flatMap((ring) => ring.points.map(([modulus]) => modulus)),
      ...picture.classRange.modulusPa,
      modulusPa.low,
      modulusPa.high,
      ...listDrawable(picture),
    ].map((pascal) => pascal / PASCAL_PER_GIGAPASCAL),
    [BOX.left, BOX.right],
  );
  const y = scaleAround(
    [
      ...rings.flatMap((ring) => ring.points.map(([, fix]) => fix)),
      ...picture.classRange.fixity,
      fixity.low,
      fixity.high,
    ],
    [BOX.bottom, BOX.top],
  );
  const atX = (pascal: number): number => roundCoordinate(x(pascal / PASCAL_PER_GIGAPASCAL));
  const atY = (value: number): number => roundCoordinate(y(value));
  const levels = [...new Set(rings.map((ring) => ring.probability))].sort((a, b) => a - b);
  const styleOf = (probability: number): string =>
    LINE_STYLES[levels.indexOf(probability) % LINE_STYLES.length]!;

  const [usualLow, usualHigh] = picture.classRange.modulusPa;
  const [usualLoose, usualFirm] = picture.classRange.fixity;
  const usual = markup`<rect class="usual" x="${atX(usualLow)}" y="${atY(usualFirm)}" width="${roundCoordinate(atX(usualHigh) - atX(usualLow))}" height="${roundCoordinate(atY(usualLoose) - atY(usualFirm))}"/><text class="note" x="${atX(usualHigh) - 5}" y="${atY(usualLoose) - 6}" text-anchor="end">usual before any recording (90 %)</text>`;
  const regions = rings.map(
    ({ probability, points }) =>
      markup`<path class="region" d="${drawPath(
        points.map(([modulus, fix]) => [atX(modulus), atY(fix)]),
        true,
      )}" stroke-dasharray="${styleOf(probability)}"/>`,
  );
  const median = markup`<g class="median"><line x1="${atX(modulusPa.low)}" x2="${atX(modulusPa.high)}" y1="${atY(fixity.value)}" y2="${atY(fixity.value)}"/><line x1="${atX(modulusPa.value)}" x2="${atX(modulusPa.value)}" y1="${atY(fixity.low)}" y2="${atY(fixity.high)}"/><circle cx="${atX(modulusPa.value)}" cy="${atY(fixity.value)}" r="3"/></g>`;
  const fixityTicks = labelLogTicks(y.ticks(8), y);
  const mapped = y
    .ticks(8)
    .map(
      (value, i) =>
        markup`<text x="${BOX.right + 7}" y="${roundCoordinate(y(value) + 3.5)}">${fixityTicks[i]!.label === '' ? '' : formatNumber(value / (value + 1), 2)}</text>`,
    );

  return drawFigure(
    HEIGHT,
    'Stem modulus against fixity of the root, with the regions that hold the stated shares of probability.',
    markup`${drawBottomAxis(BOX, { title: 'stem: modulus of elasticity, GPa', ticks: labelLogTicks(x.ticks(8), x) })}${drawLeftAxis(BOX, { title: 'root: fixity', ticks: fixityTicks }, 14)}<g class="axis">${mapped}<text class="title" transform="translate(${PLOT_WIDTH - 22} ${(BOX.top + BOX.bottom) / 2}) rotate(-90)" text-anchor="middle">fixity / (fixity + 1)</text></g>${usual}${regions}${drawRequired(picture.requiredModulusPa, atX)}${median}`,
    markup`<b>Stem against root.</b> ${levels.map(
      (level) =>
        markup`<svg class="dash" viewBox="0 0 30 8" role="img" aria-label="line"><line x1="0" x2="30" y1="4" y2="4" stroke-dasharray="${styleOf(level)}"/></svg> holds ${Math.round(level * 100)} % of probability; `,
    )}dot and cross: medians with their ${Math.round(modulusPa.level * 100)} % intervals; grey rectangle: what is usual for this species, soil and depth. ${tellRequired(picture.requiredModulusPa, x.domain())}`,
  );
}

/** The required modulus, unless it is so far off that drawing it would squeeze all else. */
function listDrawable({ requiredModulusPa, classRange }: StemRootPicture): number[] {
  const [low, high] = classRange.modulusPa;
  const isNear =
    requiredModulusPa !== null &&
    requiredModulusPa > low / FURTHEST_DRAWN &&
    requiredModulusPa < high * FURTHEST_DRAWN;
  return isNear ? [requiredModulusPa] : [];
}

function drawRequired(requiredPa: number | null, atX: (pascal: number) => number): Markup | null {
  if (requiredPa === null) return null;
  const at = atX(requiredPa);
  if (at < BOX.left || at > BOX.right) return null;
  return markup`<line class="required" x1="${at}" x2="${at}" y1="${BOX.top}" y2="${BOX.bottom}"/><text class="note" x="${at}" y="${BOX.top - 6}" text-anchor="middle">meets the requirement</text>`;
}

function tellRequired(requiredPa: number | null, domainGpa: readonly number[]): string {
  if (requiredPa === null) return '';
  const requiredGpa = requiredPa / PASCAL_PER_GIGAPASCAL;
  const isDrawn = requiredGpa >= domainGpa[0]! && requiredGpa <= domainGpa[1]!;
  return `With a stem of ${formatNumber(requiredGpa, 2)} GPa the median capacity would meet the requirement${isDrawn ? ' (line across)' : '; that is outside the picture'}.`;
}

function scaleAround(values: readonly number[], range: readonly [number, number]) {
  let [least, greatest] = [Number.POSITIVE_INFINITY, 0];
  for (const value of values) {
    if (value < least) least = value;
    if (value > greatest) greatest = value;
  }
  const room = (greatest / least) ** MARGIN_SHARE;
  return scaleLog([least / room, greatest * room], range);
}
