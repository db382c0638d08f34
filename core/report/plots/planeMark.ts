import { type Markup, markup } from '../markup.ts';
import { drawPath, roundCoordinate } from './plotFrame.ts';

/** Okabe and Ito (2008), colours that most colour-blind readers tell apart; each goes with a shape. */
const PLANE_STYLES = [
  { color: '#0072B2', shape: 'circle' },
  { color: '#D55E00', shape: 'square' },
  { color: '#009E73', shape: 'diamond' },
  { color: '#CC79A7', shape: 'triangle' },
] as const;

type PlaneStyle = (typeof PLANE_STYLES)[number];

/** Colour and shape of a bending plane; they repeat from the fifth on. */
export function planeStyle(plane: number): PlaneStyle {
  return PLANE_STYLES[plane % PLANE_STYLES.length]!;
}

/** The shape of a plane, filled with its colour, centred at x, y. */
export function drawPlaneMark(plane: number, x: number, y: number, radius: number): Markup {
  const { color, shape } = planeStyle(plane);
  if (shape === 'circle') {
    return markup`<circle cx="${roundCoordinate(x)}" cy="${roundCoordinate(y)}" r="${radius}" fill="${color}"/>`;
  }
  return markup`<path d="${drawPath(cornersOf(shape, x, y, radius), true)}" fill="${color}"/>`;
}

/** The shape alone, as a small drawing to stand in a line of text or a cell. */
export function planeSymbol(plane: number): Markup {
  return markup`<svg class="symbol" viewBox="0 0 12 12" role="img" aria-label="${planeStyle(plane).shape}">${drawPlaneMark(plane, 6, 6, 5)}</svg>`;
}

function cornersOf(
  shape: 'triangle' | 'square' | 'diamond',
  x: number,
  y: number,
  radius: number,
): [number, number][] {
  const corners = { triangle: [-90, 30, 150], square: [-135, -45, 45, 135], diamond: [-90, 0, 90, 180] }[
    shape
  ];
  return corners.map((degrees) => {
    const angle = (degrees * Math.PI) / 180;
    return [x + 1.15 * radius * Math.cos(angle), y + 1.15 * radius * Math.sin(angle)];
  });
}
