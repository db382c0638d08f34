const OUTLINES = [
  <circle key="circle" cx="8" cy="8" r="7" />,
  <rect key="square" x="1.5" y="1.5" width="13" height="13" />,
  <path key="diamond" d="M8 0.5 15.5 8 8 15.5 0.5 8z" />,
  <path key="shield" d="M1.5 1.5h13v7L8 15.5 1.5 8.5z" />,
];

/**
 * The mark of a bending plane: circle, square, diamond, shield in order of planes, in the plane's colour, with
 * the mode number inside where one is given. Hollow where the pick is only proposed.
 */
export function PlaneMark({
  plane,
  number,
  hollow = false,
  size = 16,
}: {
  plane: number;
  number?: number;
  hollow?: boolean;
  size?: number;
}) {
  const colour = `var(--plane-${plane % OUTLINES.length})`;
  return (
    <svg width={size} height={size} viewBox="0 0 16 16" aria-hidden className="plane-mark">
      <g fill={hollow ? 'var(--panel)' : colour} stroke={colour} strokeWidth="1.5">
        {OUTLINES[plane % OUTLINES.length]}
      </g>
      {number !== undefined && (
        <text
          x="8"
          y="11.6"
          textAnchor="middle"
          fontSize="10.5"
          fontWeight="700"
          fill={hollow ? 'var(--ink)' : 'var(--panel)'}
        >
          {number}
        </text>
      )}
    </svg>
  );
}
