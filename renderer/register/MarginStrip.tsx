import type { RegisterRow } from '../types.ts';

/** Capacity in multiples of the requirement, from nothing to this at the right edge. */
const LARGEST_RATIO = 3;
const TICKS = [1, 2] as const;

const share = (ratio: number) => (100 * Math.min(Math.max(ratio, 0), LARGEST_RATIO)) / LARGEST_RATIO;
const place = (ratio: number) => `${share(ratio)}%`;

type Strip = Pick<RegisterRow, 'capacityNm' | 'requirementNm' | 'thresholdNm'>;

/** Capacity as a multiple of the requirement: interval as a bar, median as a stroke, requirement as a line at 1, threshold as a tick below. */
export function MarginStrip({ row }: { row: Strip }) {
  const { capacityNm, requirementNm, thresholdNm } = row;
  if (!capacityNm || !requirementNm) return null;
  const ratio = (nm: number) => nm / requirementNm;
  const { low, value, high } = capacityNm;
  return (
    <svg className="margin-strip" height={18} aria-hidden>
      <rect
        x={place(ratio(low))}
        y={5.5}
        width={`${Math.max(share(ratio(high)) - share(ratio(low)), 1)}%`}
        height={7}
        className="strip-interval"
      />
      {ratio(high) > LARGEST_RATIO && (
        <text x="100%" y={13} textAnchor="end">
          ›
        </text>
      )}
      <line x1={place(ratio(value))} x2={place(ratio(value))} y1={3} y2={15} className="strip-median" />
      <line x1={place(1)} x2={place(1)} y1={0} y2={18} className="strip-requirement" />
      {thresholdNm !== null && thresholdNm !== requirementNm && (
        <line
          x1={place(ratio(thresholdNm))}
          x2={place(ratio(thresholdNm))}
          y1={11}
          y2={18}
          className="strip-threshold"
        />
      )}
    </svg>
  );
}

/** The scale of the strips, for the head of their column. */
export function MarginScale() {
  return (
    <svg className="margin-strip" height={14} aria-hidden>
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
