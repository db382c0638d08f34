import type { NumberLimits } from '../../parts/index.ts';
import type { RequirementProfile } from '../calibrationTypes.ts';

export type GroupName = 'conductors' | 'equipment' | 'forces';
/** One load, as the table of its group edits it. */
export type LoadRow = Readonly<Record<string, string | number>>;

type Column =
  | { field: string; label: string; kind: 'number'; limits: NumberLimits }
  | { field: string; label: string; kind: 'choice'; choices: readonly { value: string; words: string }[] };

export type LoadGroup = {
  name: GroupName;
  title: string;
  /** Of the button that adds a row. */
  add: string;
  columns: readonly Column[];
  /** A row to begin with. */
  first: LoadRow;
};

const number = (field: string, label: string, least: number, most: number, unit: string): Column => ({
  field,
  label,
  kind: 'number',
  limits: { least, most, unit },
});
const height = number('heightM', 'Height, m', 0.1, 60, 'm');

/** The loads of a line, group by group. Limits are those of the profile's form. */
export const LOAD_GROUPS: readonly LoadGroup[] = [
  {
    name: 'conductors',
    title: 'Conductors and cables',
    add: 'Add a conductor',
    columns: [
      {
        field: 'count',
        label: 'How many',
        kind: 'number',
        limits: { least: 1, most: 100, unit: '', isWhole: true },
      },
      height,
      number('diameterM', 'Diameter, m', 0.001, 0.5, 'm'),
      number('windSpanM', 'Wind span, m', 0, 2000, 'm'),
      number('tensionN', 'Tension of each, N', 0, 1e6, 'N'),
      number('lineAngleDeg', 'Line turns by, °', 0, 120, '°'),
    ],
    first: {
      name: 'conductor',
      count: 1,
      heightM: 9,
      diameterM: 0.014,
      windSpanM: 60,
      tensionN: 0,
      lineAngleDeg: 0,
    },
  },
  {
    name: 'equipment',
    title: 'Equipment',
    add: 'Add equipment',
    columns: [
      height,
      number('areaM2', 'Face, m²', 0, 100, 'm²'),
      {
        field: 'face',
        label: 'Shape of it',
        kind: 'choice',
        choices: [
          { value: 'flat', words: 'flat' },
          { value: 'round', words: 'round' },
        ],
      },
      number('massKg', 'Mass, kg', 0, 20_000, 'kg'),
      number('offsetM', 'Off the axis, m', 0, 10, 'm'),
    ],
    first: { name: 'equipment', heightM: 8, areaM2: 0.5, face: 'flat', massKg: 0, offsetM: 0 },
  },
  {
    name: 'forces',
    title: 'Other forces',
    add: 'Add a force',
    columns: [
      height,
      number('forceN', 'Horizontal force, N', 1, 1e7, 'N'),
      {
        field: 'kind',
        label: 'Factor taken',
        kind: 'choice',
        choices: [
          { value: 'wind', words: 'wind' },
          { value: 'tension', words: 'tension' },
        ],
      },
    ],
    first: { name: 'force', heightM: 8, forceN: 1000, kind: 'tension' },
  },
];

export function rowsOf(profile: RequirementProfile, group: GroupName): readonly LoadRow[] {
  return profile[group] as unknown as readonly LoadRow[];
}

export function withRows(
  profile: RequirementProfile,
  group: GroupName,
  rows: readonly LoadRow[],
): RequirementProfile {
  return { ...profile, [group]: rows } as RequirementProfile;
}
