import { ActionIcon, Button } from '@mantine/core';
import { IconPlus, IconTrash } from '@tabler/icons-react';
import { NumberField, Panel, ScrollRegion } from '../../parts/index.ts';
import { useCalibration } from '../useCalibration.ts';
import { LOAD_GROUPS, type LoadGroup, type LoadRow, rowsOf, withRows } from './loadGroups.ts';

const NAME_LENGTH = 80;

/** Conductors, equipment and other forces, a row each. */
export function LoadsPanel() {
  const { requirement, setProfile } = useCalibration();
  const { profile } = requirement;
  return (
    <Panel
      title="Loads"
      remark="heights above ground line; a number may be typed with its unit: 30 ft, 500 lbf, 4 psf, 0.25 in"
    >
      <ScrollRegion className="loads" label="Loads of the line">
        {LOAD_GROUPS.map((group) => (
          <LoadTable
            key={group.name}
            group={group}
            rows={rowsOf(profile, group.name)}
            onChange={(rows) => setProfile(withRows(profile, group.name, rows))}
          />
        ))}
      </ScrollRegion>
    </Panel>
  );
}

type LoadTableProps = {
  group: LoadGroup;
  rows: readonly LoadRow[];
  onChange: (rows: readonly LoadRow[]) => void;
};

function LoadTable({ group, rows, onChange }: LoadTableProps) {
  const change = (at: number, part: LoadRow) =>
    onChange(rows.map((row, i) => (i === at ? { ...row, ...part } : row)));
  return (
    <section aria-label={group.title} className="load-group plain-table">
      <table>
        <thead>
          <tr>
            <th scope="col">{group.title}</th>
            {rows.length > 0 &&
              group.columns.map(({ field, label }) => (
                <th key={field} scope="col">
                  {label}
                </th>
              ))}
            <th scope="col" className="is-number">
              <Button
                size="compact-xs"
                variant="default"
                leftSection={<IconPlus size={13} />}
                onClick={() => onChange([...rows, group.first])}
              >
                {group.add}
              </Button>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row, i) => (
            <LoadLine
              // biome-ignore lint/suspicious/noArrayIndexKey: a load is known by its place alone
              key={i}
              group={group}
              row={row}
              onChange={(part) => change(i, part)}
              onDrop={() => onChange(rows.filter((_, own) => own !== i))}
            />
          ))}
        </tbody>
      </table>
    </section>
  );
}

type LoadLineProps = {
  group: LoadGroup;
  row: LoadRow;
  onChange: (part: LoadRow) => void;
  onDrop: () => void;
};

function LoadLine({ group, row, onChange, onDrop }: LoadLineProps) {
  const name = String(row.name);
  return (
    <tr>
      <td>
        <input
          className="text-field"
          aria-label={`Name of ${name}`}
          maxLength={NAME_LENGTH}
          value={name}
          onChange={(event) => onChange({ name: event.currentTarget.value })}
        />
      </td>
      {group.columns.map((column) => (
        <td key={column.field}>
          {column.kind === 'number' ? (
            <NumberField
              label={`${column.label} of ${name}`}
              value={String(row[column.field] ?? 0)}
              limits={column.limits}
              onCommit={(value) => onChange({ [column.field]: value })}
            />
          ) : (
            <select
              aria-label={`${column.label} of ${name}`}
              value={String(row[column.field])}
              onChange={(event) => onChange({ [column.field]: event.currentTarget.value })}
            >
              {column.choices.map(({ value, words }) => (
                <option key={value} value={value}>
                  {words}
                </option>
              ))}
            </select>
          )}
        </td>
      ))}
      <td className="is-number">
        <ActionIcon
          variant="subtle"
          color="gray"
          size={24}
          aria-label={`Remove ${name}`}
          title="Remove"
          onClick={onDrop}
        >
          <IconTrash size={15} />
        </ActionIcon>
      </td>
    </tr>
  );
}
