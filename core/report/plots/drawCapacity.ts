import { scaleLinear } from 'd3-scale';
import type { Assessment } from '../../assessment.ts';
import { formatQuantity, UNITS } from '../../formatNumbers.ts';
import { type Markup, markup } from '../markup.ts';
import {
  drawBottomAxis,
  drawFigure,
  labelTicks,
  PLOT_WIDTH,
  type PlotBox,
  roundCoordinate,
} from './plotFrame.ts';

const BOX: PlotBox = { left: 12, right: PLOT_WIDTH - 12, top: 34, bottom: 88 };
const HEIGHT = 122;
const ROOM_ABOVE = 1.08;
const LABEL_ROOM = 110;

type Strength = NonNullable<Assessment['strength']>;
type Requirement = NonNullable<Assessment['requirement']>;

/** Bending capacity at the ground line as an interval on one axis with what is required, in kN·m from 0. */
export function drawCapacity(strength: Strength, requirement: Requirement | null): Markup {
  const capacity = strength.groundlineMomentNm;
  const scale = UNITS.kilonewtonMetre.scale;
  const greatestNm = Math.max(capacity.high, requirement?.groundlineMomentNm ?? 0) * ROOM_ABOVE;
  const x = scaleLinear([0, greatestNm / scale], [BOX.left, BOX.right]);
  const at = (momentNm: number): number => roundCoordinate(x(momentNm / scale));
  const middle = 62;
  const interval = markup`<g class="capacity"><line class="bar" x1="${at(capacity.low)}" x2="${at(capacity.high)}" y1="${middle}" y2="${middle}"/><path d="M${at(capacity.low)} ${middle - 9}V${middle + 9}M${at(capacity.high)} ${middle - 9}V${middle + 9}"/><circle cx="${at(capacity.value)}" cy="${middle}" r="5"/><path class="exclusion" d="M${at(strength.lower5PercentNm)} ${middle + 8}l-4 8h8Z"/></g>`;
  return drawFigure(
    HEIGHT,
    'Interval of the bending capacity at the ground line beside what is required.',
    markup`${drawBottomAxis(BOX, { title: 'bending moment at the ground line, kN·m', ticks: labelTicks(x.ticks(10), x) })}${requirement === null ? null : drawRequirement(requirement, at)}${interval}`,
    markup`<b>Capacity against requirement.</b> Bar: ${Math.round(capacity.level * 100)} % interval of the capacity, dot: median; small triangle: lower 5 % value (${formatQuantity(strength.lower5PercentNm, UNITS.kilonewtonMetre)}).${requirement === null ? null : markup` Solid line: requirement (${formatQuantity(requirement.groundlineMomentNm, UNITS.kilonewtonMetre)}); dashed line: ${formatQuantity(requirement.ruleFactor, UNITS.none)} of it, the rule’s threshold.`}`,
  );
}

function drawRequirement(requirement: Requirement, at: (momentNm: number) => number): Markup {
  return markup`${drawLimit('required', 'required', at(requirement.groundlineMomentNm), BOX.top - 6, 'right')}${drawLimit('threshold', 'threshold of the rule', at(requirement.thresholdMomentNm), BOX.top - 20, 'left')}`;
}

/** A line across with its name beside it, on its own side of the other limit unless there is no room. */
function drawLimit(kind: string, name: string, x: number, textY: number, side: 'left' | 'right'): Markup {
  const isLeft = side === 'right' ? x + LABEL_ROOM < BOX.right : x - LABEL_ROOM < BOX.left;
  return markup`<line class="${kind}" x1="${x}" x2="${x}" y1="${textY - 8}" y2="${BOX.bottom}"/><text class="note" x="${isLeft ? x + 4 : x - 4}" y="${textY}" text-anchor="${isLeft ? 'start' : 'end'}">${name}</text>`;
}
