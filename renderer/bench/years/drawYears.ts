import type { Data, Layout } from 'plotly.js';
import { axisStyle, baseLayout } from '../../plots/index.ts';
import type { Palette } from '../../theme.ts';
import type { HistoryVisit } from '../../types.ts';

const PA_PER_GPA = 1e9;
const NM_PER_KNM = 1e3;
const MODES = [1, 2, 3] as const;
const MARGIN = { l: 74, r: 14, t: 6, b: 26 } as const;
const GAP = 0.028;
/** Two standard deviations are drawn to both sides of a frequency: 95 % of normal errors. */
const DRAWN_SDS = 2;
const SYMBOLS = ['circle', 'square', 'diamond', 'triangle-down'];
const MS_PER_DAY = 86_400_000;
/** Room before the first and after the last visit, as a share of the years between, and at least so many days. */
const ROOM_SHARE = 0.06;
const LEAST_ROOM_DAYS = 90;

type Row = { title: string; traces: Record<string, unknown>[] };
type Interval = NonNullable<HistoryVisit['modulusPa']>;

/** The visits to one pole on one axis of time: stem, root and capacity with their intervals, and the first three modes of each plane. */
export function drawYears(
  palette: Palette,
  visits: readonly HistoryVisit[],
): { data: Data[]; layout: Partial<Layout> } {
  const shown = visits.filter((visit) => visit.correctedBy === null);
  const rows: Row[] = [
    { title: 'E, GPa', traces: [intervals(palette, shown, (v) => v.modulusPa, PA_PER_GPA)] },
    { title: 'Fixity', traces: [intervals(palette, shown, (v) => v.fixity, 1)] },
    {
      title: 'Capacity<br>kN·m',
      traces: [
        intervals(palette, shown, (v) => v.capacityNm, NM_PER_KNM),
        limits(palette, shown, (v) => v.requirementNm, 'solid'),
        limits(palette, shown, (v) => v.thresholdNm, 'dash'),
      ],
    },
    ...MODES.map((number): Row => ({ title: `f${number}, Hz`, traces: modes(palette, shown, number) })),
  ];
  const each = (1 - GAP * (rows.length - 1)) / rows.length;
  const axes: Record<string, unknown> = {};
  const data = rows.flatMap(({ title, traces }, i) => {
    const name = i === 0 ? '' : String(i + 1);
    const top = 1 - i * (each + GAP);
    axes[`yaxis${name}`] = {
      ...axisStyle(palette, title),
      domain: [Math.max(top - each, 0), top],
      nticks: 5,
    };
    return traces.map((trace) => ({ ...trace, yaxis: `y${name}` }));
  });
  return {
    data: data as unknown as Data[],
    layout: {
      ...baseLayout(palette),
      ...axes,
      dragmode: false,
      margin: MARGIN,
      xaxis: {
        ...axisStyle(palette),
        type: 'date',
        range: rangeOf(shown),
        anchor: `y${rows.length}`,
        nticks: 8,
      },
    } as unknown as Partial<Layout>,
  };
}

function intervals(
  palette: Palette,
  visits: readonly HistoryVisit[],
  read: (visit: HistoryVisit) => Interval | null,
  perUnit: number,
): Record<string, unknown> {
  const told = visits.flatMap((visit) => {
    const interval = read(visit);
    return interval ? [{ date: visit.date, ...interval }] : [];
  });
  return {
    type: 'scatter',
    mode: 'lines+markers',
    x: told.map(({ date }) => date),
    y: told.map(({ value }) => value / perUnit),
    error_y: {
      type: 'data',
      symmetric: false,
      array: told.map(({ value, high }) => (high - value) / perUnit),
      arrayminus: told.map(({ value, low }) => (value - low) / perUnit),
      color: palette.result,
      thickness: 1.6,
      width: 5,
    },
    line: { color: palette.result, width: 1, dash: 'dot' },
    marker: { symbol: 'cross-thin-open', size: 11, color: palette.ink, line: { width: 2 } },
  };
}

function limits(
  palette: Palette,
  visits: readonly HistoryVisit[],
  read: (visit: HistoryVisit) => number | null,
  dash: string,
): Record<string, unknown> {
  const told = visits.filter((visit) => read(visit) !== null);
  return {
    type: 'scatter',
    mode: 'lines+markers',
    x: told.map(({ date }) => date),
    y: told.map((visit) => read(visit)! / NM_PER_KNM),
    line: { color: palette.ink, width: 1.4, dash },
    marker: { symbol: 'line-ew-open', size: 14, color: palette.ink, line: { width: 1.6 } },
  };
}

function modes(palette: Palette, visits: readonly HistoryVisit[], number: number): Record<string, unknown>[] {
  const planes = [...new Set(visits.flatMap((visit) => visit.modes.map((mode) => mode.plane)))].sort();
  return planes.map((plane) => {
    const told = visits.flatMap((visit) => {
      const mode = visit.modes.find((m) => m.plane === plane && m.number === number);
      return mode ? [{ date: visit.date, ...mode.frequencyHz }] : [];
    });
    const color = palette.planes[plane % palette.planes.length]!;
    return {
      type: 'scatter',
      mode: 'lines+markers',
      x: told.map(({ date }) => date),
      y: told.map(({ value }) => value),
      error_y: {
        type: 'data',
        array: told.map(({ sd }) => DRAWN_SDS * sd),
        color,
        thickness: 1.4,
        width: 4,
      },
      line: { color, width: 1, dash: 'dot' },
      marker: { symbol: SYMBOLS[plane % SYMBOLS.length], size: 8, color },
    };
  });
}

function rangeOf(visits: readonly HistoryVisit[]): [string, string] {
  const days = visits.map(({ date }) => Date.parse(date) / MS_PER_DAY);
  const [first, last] = [Math.min(...days), Math.max(...days)];
  const room = Math.max((last - first) * ROOM_SHARE, LEAST_ROOM_DAYS);
  const write = (day: number) => new Date(day * MS_PER_DAY).toISOString().slice(0, 10);
  return [write(first - room), write(last + room)];
}
