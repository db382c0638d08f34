import { Button, Popover } from '@mantine/core';
import { IconChevronDown } from '@tabler/icons-react';
import { FIRST_QUERY, useRegister } from '../state/index.ts';
import type { CallResponse, RegisterQuery } from '../types.ts';
import { describeSpecies } from '../words/index.ts';

type Counts = CallResponse<'register.query'>['counts'];

const RULED: readonly { value: RegisterQuery['ruled']; words: string }[] = [
  { value: 'any', words: 'ruled on or not' },
  { value: 'waiting', words: 'not ruled on' },
  { value: 'ruled', words: 'ruled on' },
];

/** Kinds of reasons whose own names are too short to be understood away from a row. */
const REASON_WORDS: Readonly<Record<string, string>> = {
  failed: 'could not be assessed',
  withheld: 'result withheld',
  'near threshold': 'near threshold or requirement',
  'not separated': 'stem not told from root',
  misfit: 'data do not fit one pole',
  changed: 'changed since an earlier visit',
  'no threshold': 'no requirement known',
  finding: 'another finding',
  'newer than ruling': 'result newer than its ruling',
};

/** Filters, each with how many visits of the whole register it would leave. */
export function FilterBar({ counts }: { counts: Counts }) {
  const { query, ask } = useRegister();
  const isFiltered =
    JSON.stringify({ ...query, search: '', sort: null }) !==
    JSON.stringify({ ...FIRST_QUERY, search: '', sort: null });
  return (
    <div className="register-bar">
      <FilterMenu
        title="Reason"
        counts={counts.reasons}
        chosen={query.reasons}
        name={(kind) => REASON_WORDS[kind] ?? kind}
        onChange={(reasons) => ask({ reasons: reasons as RegisterQuery['reasons'] })}
      />
      <FilterMenu
        title="Verdict"
        counts={counts.verdicts}
        chosen={query.verdicts}
        onChange={(verdicts) => ask({ verdicts: verdicts as RegisterQuery['verdicts'] })}
      />
      <FilterMenu
        title="Species"
        counts={counts.species}
        chosen={query.species}
        name={describeSpecies}
        onChange={(species) => ask({ species })}
      />
      <label>
        <span className="visually-hidden">Ruling</span>
        <select
          value={query.ruled}
          onChange={(event) => ask({ ruled: event.currentTarget.value as RegisterQuery['ruled'] })}
        >
          {RULED.map(({ value, words }) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <label>
        <input
          type="checkbox"
          checked={query.latestOnly}
          onChange={(event) => ask({ latestOnly: event.currentTarget.checked })}
        />
        latest visit of each pole only
      </label>
      {isFiltered && (
        <Button
          size="compact-xs"
          variant="default"
          onClick={() => ask({ ...FIRST_QUERY, sort: query.sort, search: query.search })}
        >
          Drop filters
        </Button>
      )}
    </div>
  );
}

function FilterMenu(props: {
  title: string;
  counts: readonly { value: string; visits: number }[];
  chosen: readonly string[];
  name?: (value: string) => string;
  onChange: (chosen: string[]) => void;
}) {
  const { title, counts, chosen, name = (value) => value, onChange } = props;
  const words = chosen.length === 0 ? `${title}: any` : `${title}: ${chosen.map(name).join(', ')}`;
  const missing = chosen.filter((value) => counts.every((count) => count.value !== value));
  const listed = [...counts, ...missing.map((value) => ({ value, visits: 0 }))];
  return (
    <Popover position="bottom-start" transitionProps={{ duration: 0 }} trapFocus>
      <Popover.Target>
        <Button size="compact-sm" variant="default" rightSection={<IconChevronDown size={13} aria-hidden />}>
          {words}
        </Button>
      </Popover.Target>
      <Popover.Dropdown p={0}>
        <fieldset className="filter-menu">
          <legend className="visually-hidden">{title}: any of</legend>
          {listed.map(({ value, visits }) => (
            <label key={value}>
              <input
                type="checkbox"
                checked={chosen.includes(value)}
                onChange={(event) =>
                  onChange(
                    event.currentTarget.checked
                      ? [...chosen, value]
                      : chosen.filter((other) => other !== value),
                  )
                }
              />
              {name(value)}
              <span className="quiet">{visits}</span>
            </label>
          ))}
        </fieldset>
      </Popover.Dropdown>
    </Popover>
  );
}
