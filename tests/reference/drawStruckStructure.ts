/**
 * Draws the stabilisation diagram of a measured struck structure into docs/pictures/struck-structure.svg.
 * Run: node tests/reference/drawStruckStructure.ts. Data and licence: data/struck-structure.
 */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { computeStabilisation } from '../../core/modal/index.ts';
import { cutStruckStructure, PUBLISHED_HZ, WINDOW_HZ } from './struckStructure.ts';

const WIDTH = 900;
const HEIGHT = 420;
const MARGIN = { left: 56, right: 16, top: 34, bottom: 46 };
const LOWEST_DB = -60;
const MARKS = { holds: '●', damping: '+', frequency: '|', new: '·' } as const;

const diagram = computeStabilisation([cutStruckStructure()], {
  minimumHz: WINDOW_HZ[0],
  maximumHz: WINDOW_HZ[1],
});
const highestOrder = Math.max(...diagram.orders);
const x = (f: number) =>
  MARGIN.left + ((f - WINDOW_HZ[0]) / (WINDOW_HZ[1] - WINDOW_HZ[0])) * (WIDTH - MARGIN.left - MARGIN.right);
const yOfShare = (share: number) => HEIGHT - MARGIN.bottom - share * (HEIGHT - MARGIN.top - MARGIN.bottom);
const y = (order: number) => yOfShare(order / (highestOrder + 1));
const level = diagram.indicator.frequenciesHz
  .map((f, i) => ({ f, share: 1 - Math.max(diagram.indicator.planes[0]![i]!, LOWEST_DB) / LOWEST_DB }))
  .filter(({ f }) => f >= WINDOW_HZ[0] && f <= WINDOW_HZ[1]);
const text = (at: number, down: number, words: string, anchor = 'middle') =>
  `<text x="${at.toFixed(1)}" y="${down.toFixed(1)}" text-anchor="${anchor}">${words}</text>`;

const parts = [
  `<rect width="${WIDTH}" height="${HEIGHT}" fill="#fff"/>`,
  `<polyline fill="none" stroke="#767676" points="${level.map(({ f, share }) => `${x(f).toFixed(1)},${yOfShare(share).toFixed(1)}`).join(' ')}"/>`,
  `<path d="M${x(PUBLISHED_HZ)} ${MARGIN.top}V${HEIGHT - MARGIN.bottom}" stroke="#D55E00" stroke-dasharray="6 4"/>`,
  text(x(PUBLISHED_HZ) + 6, MARGIN.top + 14, `published ${PUBLISHED_HZ.toFixed(2)} Hz`, 'start'),
  ...diagram.poles
    .filter(({ frequencyHz: f }) => f >= WINDOW_HZ[0] && f <= WINDOW_HZ[1])
    .map((pole) => text(x(pole.frequencyHz), y(pole.order) + 4, MARKS[pole.status])),
  `<path d="M${MARGIN.left} ${MARGIN.top}V${HEIGHT - MARGIN.bottom}H${WIDTH - MARGIN.right}" fill="none" stroke="#000"/>`,
  ...[160, 180, 200, 220, 240, 260, 280, 300].map((f) => text(x(f), HEIGHT - MARGIN.bottom + 18, String(f))),
  ...diagram.orders
    .filter((order) => order % 4 === 0)
    .map((order) => text(MARGIN.left - 8, y(order) + 4, String(order), 'end')),
  text(WIDTH / 2, HEIGHT - 8, 'frequency, Hz'),
  text(
    MARGIN.left,
    20,
    'model order; ● holds, + frequency and damping hold, | frequency holds, · new; line: level of the strike, 60 dB',
    'start',
  ),
];
writeFileSync(
  join(import.meta.dirname, '..', '..', 'docs', 'pictures', 'struck-structure.svg'),
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" font-family="sans-serif" font-size="13">\n<title>Stabilisation diagram of a struck structure</title>\n${parts.join('\n')}\n</svg>\n`,
);
