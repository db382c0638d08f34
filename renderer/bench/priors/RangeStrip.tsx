type Interval = { low: number; high: number };

const WIDTH_PX = 90;
const ROOM_SHARE = 0.06;

/** Two ranges over each other on one scale, which has no numbers: hollow before, filled after. They stand in the cells beside it. */
export function RangeStrip(props: {
  before: Interval & { median: number };
  after: Interval & { value: number };
}) {
  const { before, after } = props;
  const least = Math.min(before.low, after.low);
  const most = Math.max(before.high, after.high);
  const place = (value: number) =>
    WIDTH_PX * (ROOM_SHARE + (1 - 2 * ROOM_SHARE) * ((value - least) / (most - least || 1)));
  return (
    <svg className="range-strip" width={WIDTH_PX} height={20} aria-hidden>
      <rect
        className="range-before"
        x={place(before.low)}
        width={Math.max(place(before.high) - place(before.low), 1)}
        y={2}
        height={6}
      />
      <line className="range-before" x1={place(before.median)} x2={place(before.median)} y1={1} y2={9} />
      <rect
        className="range-after"
        x={place(after.low)}
        width={Math.max(place(after.high) - place(after.low), 1)}
        y={12}
        height={6}
      />
      <line className="range-after" x1={place(after.value)} x2={place(after.value)} y1={11} y2={19} />
    </svg>
  );
}
