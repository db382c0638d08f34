import type { Difference } from '../calibrationTypes.ts';

/** Multiples of the requirement, from nothing to this at the right edge. */
const LARGEST_RATIO = 2.5;
const TICKS = [1, 2] as const;

const place = (ratio: number) => `${(100 * Math.min(Math.max(ratio, 0), LARGEST_RATIO)) / LARGEST_RATIO}%`;

/** Capacity before (hollow) and now (filled) with their intervals, the requirement (dashed) and the rule's threshold (dotted). */
export function ShiftStrip({ row }: { row: Difference }) {
  const requirementNm = row.after.requirementNm ?? row.before.requirementNm;
  if (!requirementNm) return null;
  const ratio = (nm: number) => place(nm / requirementNm);
  const { thresholdNm } = row.after;
  return (
    <svg className="shift-strip" height={26} aria-hidden>
      <line
        x1={ratio(requirementNm)}
        x2={ratio(requirementNm)}
        y1={0}
        y2={26}
        className="strip-requirement"
      />
      {thresholdNm !== null && (
        <line x1={ratio(thresholdNm)} x2={ratio(thresholdNm)} y1={0} y2={26} className="strip-threshold" />
      )}
      {([row.before, row.after] as const).map(({ capacityNm }, i) => {
        if (!capacityNm) return null;
        const y = i === 0 ? 8 : 18;
        return (
          <g key={i === 0 ? 'before' : 'after'} className={i === 0 ? 'shift-before' : 'shift-after'}>
            <line x1={ratio(capacityNm.low)} x2={ratio(capacityNm.high)} y1={y} y2={y} />
            <circle cx={ratio(capacityNm.value)} cy={y} r={4} />
          </g>
        );
      })}
    </svg>
  );
}

/** The scale of the strips, for the head of their column. */
export function ShiftScale() {
  return (
    <svg className="shift-strip" height={16} aria-hidden>
      <text x={0} y={12}>
        0
      </text>
      {TICKS.map((ratio) => (
        <text key={ratio} x={place(ratio)} y={12} textAnchor="middle">
          ×{ratio}
        </text>
      ))}
    </svg>
  );
}
