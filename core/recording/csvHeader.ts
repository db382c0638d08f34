import { FormatError } from '../errors.ts';
import { RECORDING_LIMITS } from './recording.ts';
import { ACCELERATION_UNITS } from './units.ts';

/**
 * What a column of a CSV recording holds, and the factor that turns its values into s, m/s2 or full scale.
 */
export interface CsvColumn {
  readonly name: string;
  readonly kind: 'time' | 'm/s2' | 'full scale';
  readonly factor: number;
}

/** Units as they may stand in square brackets, or as a suffix after an underscore. */
const UNITS: readonly {
  readonly names: readonly string[];
  readonly kind: CsvColumn['kind'];
  readonly factor: number;
}[] = [
  ...ACCELERATION_UNITS.map(({ names, mPerS2 }) => ({ names, kind: 'm/s2' as const, factor: mPerS2 })),
  { names: ['fs', 'full_scale'], kind: 'full scale', factor: 1 },
];
const TIME_UNITS: Readonly<Record<string, number>> = { s: 1, ms: 1e-3 };

/**
 * Reads the header row of a CSV recording.
 * @param statedRateHz - from a line `sample_rate_hz` above the header, or null
 * @throws FormatError `csv.header` or `recording.channels`, naming the column
 */
export function readCsvHeader(
  cells: readonly string[],
  row: number,
  statedRateHz: number | null,
  fileName: string,
): CsvColumn[] {
  if (cells.length > RECORDING_LIMITS.channels + 1) {
    throw new FormatError(
      'recording.channels',
      `${fileName}, row ${row}: ${cells.length} columns; at most ${RECORDING_LIMITS.channels} channels and a time column are read.`,
      'Export only the channels of the accelerometers.',
    );
  }
  const columns = cells.map((cell) => readColumn(cell.trim(), row, fileName));
  const times = columns.filter((column) => column.kind === 'time').length;
  const kinds = new Set(columns.map((column) => column.kind).filter((kind) => kind !== 'time'));
  const complaint =
    times > 1
      ? `${times} time columns; one is expected`
      : times === 0 && statedRateHz === null
        ? 'no time column and no line "sample_rate_hz,<number>" above the header'
        : kinds.size === 0
          ? 'no column of accelerations'
          : kinds.size > 1
            ? 'columns in full scale beside columns in m/s2, g or mg; one kind is expected'
            : null;
  if (complaint === null) return columns;
  throw new FormatError('csv.header', `${fileName}, row ${row}: ${complaint}.`, HEADER_HINT);
}

const HEADER_HINT =
  'Name columns with units, for instance time_s,plane0_m_per_s2,plane1_m_per_s2 or time [ms];ch1 [g];ch2 [g] (docs/recordings.md).';

function readColumn(name: string, row: number, fileName: string): CsvColumn {
  const bracket = /^(.*)[[(]([^\])]*)[\])]$/.exec(name);
  const label = (bracket ? bracket[1]! : name).trim().toLowerCase();
  const unitText = bracket ? bracket[2]!.trim().toLowerCase() : null;
  const time = /^(?:time|t)(?:_(m?s))?$/.exec(label);
  if (time !== null) {
    const factor = TIME_UNITS[unitText ?? time[1] ?? ''];
    if (factor !== undefined) return { name, kind: 'time', factor };
  } else {
    const unit = UNITS.find(({ names }) =>
      unitText !== null ? names.includes(unitText) : names.some((suffix) => label.endsWith(`_${suffix}`)),
    );
    if (unit !== undefined) return { name, kind: unit.kind, factor: unit.factor };
  }
  throw new FormatError(
    'csv.header',
    `${fileName}, row ${row}: column "${name.slice(0, 60)}" names no unit that is known here; s or ms for time, and m/s2, g, mg or fs for samples are expected.`,
    HEADER_HINT,
  );
}
