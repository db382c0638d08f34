import type { RegisterRow } from '../types.ts';

const WIDTH = 108;
const HEIGHT = 18;
const MIDDLE = HEIGHT / 2;
/** Capacity in multiples of the requirement, from nothing to this at the right edge. */
const LARGEST_RATIO = 3;
const TICKS = [1, 2] as const;

const place = (ratio: number) => (Math.min(Math.max(ratio, 0), LARGEST_RATIO) / LARGEST_RATIO) * WIDTH;

/** Capacity as a multiple of the requirement: interval as a bar, median as a stroke, requirement as a line at 1. */
export function MarginStrip({ row }: { row: Pick<RegisterRow, 'capacityNm' | 'requirementNm'> }) {
  const { capacityNm, requirementNm } = row;
  if (!capacityNm || !requirementNm) return null;
  const [low, value, high] = [capacityNm.low, capacityNm.value, capacityNm.high].map((x) =>
    place(x / requirementNm),
  ) as [number, number, number];
  return (
    <svg className="margin-strip" width={WIDTH} height={HEIGHT} aria-hidden>
      <rect x={low} y={MIDDLE - 3.5} width={Math.max(high - low, 1)} height={7} className="strip-interval" />
      {high >= WIDTH && <path d={`M${WIDTH - 5} ${MIDDLE - 6}l5 6-5 6`} className="strip-beyond" />}
      <line x1={value} x2={value} y1={MIDDLE - 6} y2={MIDDLE + 6} className="strip-median" />
      <line x1={place(1)} x2={place(1)} y1={0} y2={HEIGHT} className="strip-requirement" />
    </svg>
  );
}

/** The scale of the strips, for the head of their column. */
export function MarginScale() {
  return (
    <svg className="margin-strip" width={WIDTH} height={14} aria-hidden>
      <text x={0} y={11}>
        0
      </text>
      {TICKS.map((ratio) => (
        <text key={ratio} x={place(ratio)} y={11} textAnchor="middle">
          ×{ratio}
        </text>
      ))}
    </svg>
  );
}
