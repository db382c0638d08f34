import { Button, CloseButton, TextInput } from '@mantine/core';
import { IconFileDownload, IconSearch } from '@tabler/icons-react';
import { useEffect, useState } from 'react';
import { useReports } from '../reports/index.ts';
import { recallChoices, type UnderWay, useRegister, useWindow } from '../state/index.ts';
import type { RegisterRow } from '../types.ts';
import type { Found as FoundRows } from './useRegisterRows.ts';
import { ViewMenu } from './ViewMenu.tsx';

type RegisterHeadProps = { found: FoundRows; row: RegisterRow | undefined };

/** Search, saved views and reports. */
export function RegisterHead({ found, row }: RegisterHeadProps) {
  const { matching, moreThan } = found;
  const { query, selected } = useRegister();
  const ask = useReports((s) => s.ask);
  const selectedIds = [...selected.keys()];

  function report(): void {
    ask([
      ...(selectedIds.length > 0
        ? [{ words: nameVisits(selectedIds.length, 'chosen'), subject: { visitIds: selectedIds } }]
        : []),
      ...(row
        ? [{ words: `this visit: ${row.poleId} of ${row.date}`, subject: { visitIds: [row.visitId] } }]
        : []),
      // a query means all that it finds, which is more than is listed here
      ...(moreThan === undefined ? [{ words: `all that is listed (${matching})`, subject: { query } }] : []),
    ]);
  }

  return (
    <div className="register-head">
      <h1>Register</h1>
      <SearchField />
      <Found found={found} />
      <GoOn />
      <span className="spring" />
      <span className="quiet">↑ ↓ walk, Enter opens, space chooses</span>
      <ViewMenu />
      <Button
        size="compact-sm"
        variant="default"
        leftSection={<IconFileDownload size={16} />}
        disabled={matching === 0}
        onClick={report}
      >
        Report
      </Button>
    </div>
  );
}

/** While the register is being made, its numbers change each second: a screen reader hears that it is, and once what is there. */
function Found({ found }: { found: FoundRows }) {
  const { unfinished } = found;
  return (
    <>
      <span className="quiet" role="status">
        {unfinished > 0 ? BEING_MADE : tellFound(found)}
      </span>
      {unfinished > 0 && (
        <span className="quiet">
          {tellFound(found)}, {tellToGo(unfinished)}
        </span>
      )}
    </>
  );
}

function tellFound({ total, matching, moreThan }: FoundRows): string {
  if (moreThan === undefined)
    return matching === total ? `${total} visits` : `${matching} of ${total} visits`;
  return `first ${matching} of more than ${moreThan} visits; another word finds fewer`;
}

/** What is said while the register is being made: once after a new version of the program, or after very many new results. */
export const BEING_MADE = 'register being made';

export function tellToGo(poles: number): string {
  return `${poles === 1 ? 'one pole' : `${poles} poles`} to go`;
}

function nameVisits(count: number, which: string): string {
  return count === 1 ? `the visit ${which}` : `the ${count} visits ${which}`;
}

/** The visit that was on the bench last, where something chosen there was not stored. */
function GoOn() {
  const openVisit = useWindow((s) => s.openVisit);
  const [left, setLeft] = useState<UnderWay | null>(null);
  useEffect(() => {
    void recallChoices<UnderWay>('underway').then(setLeft);
  }, []);
  if (!left || left.isStored) return null;
  return (
    <Button size="compact-sm" variant="default" onClick={() => openVisit(left.visitId)}>
      Go on with {left.poleId}, not stored
    </Button>
  );
}

function SearchField() {
  const { query, ask } = useRegister();
  return (
    <TextInput
      className="register-search"
      size="sm"
      aria-label="Search the register"
      placeholder="Pole, species, fault, finding, ruling"
      leftSection={<IconSearch size={15} />}
      rightSection={
        query.search !== '' && (
          <CloseButton size="sm" aria-label="Clear the search" onClick={() => ask({ search: '' })} />
        )
      }
      value={query.search}
      onChange={(event) => ask({ search: event.currentTarget.value })}
    />
  );
}
