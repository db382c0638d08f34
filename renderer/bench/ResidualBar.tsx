/** Residuals beyond this many standard deviations are drawn at the end of the bar. */
const REACH_SDS = 3;
const WIDTH_PX = 40;
const MIDDLE_PX = WIDTH_PX / 2;

/** How far off a mode is, as a bar from the middle; ticks at one and two standard deviations. The number stands beside it. */
export function ResidualBar({ residual }: { residual: number }) {
  const place = (sds: number) =>
    MIDDLE_PX + (MIDDLE_PX * Math.max(-REACH_SDS, Math.min(sds, REACH_SDS))) / REACH_SDS;
  const [from, to] = [Math.min(MIDDLE_PX, place(residual)), Math.max(MIDDLE_PX, place(residual))];
  return (
    <svg className="residual-bar" width={WIDTH_PX} height={14} aria-hidden>
      {[-2, -1, 0, 1, 2].map((sds) => (
        <line
          key={sds}
          className={sds === 0 ? 'residual-zero' : 'residual-tick'}
          x1={place(sds)}
          x2={place(sds)}
          y1={sds === 0 ? 0 : 3}
          y2={sds === 0 ? 14 : 11}
        />
      ))}
      <rect className="residual-value" x={from} width={Math.max(to - from, 1.5)} y={4} height={6} />
    </svg>
  );
}
