import './register.css';
import { Button, CloseButton, TextInput } from '@mantine/core';
import { IconSearch } from '@tabler/icons-react';
import { useMemo } from 'react';
import { Cautions, ErrorNote, Waiting } from '../parts/index.ts';
import { useAnswer, useWindow } from '../state/index.ts';
import { arrangeRows } from './arrangeRows.ts';
import { RegisterTable } from './RegisterTable.tsx';

/** The first place: all visits, what waits for a person first. */
export function RegisterPlace() {
  const { search, sort, stored, setSearch, setImporting } = useWindow();
  const { value, failure } = useAnswer('register.list', {}, stored);
  const cautions = useAnswer('workspace.describe', {}).value?.cautions ?? [];
  const rows = useMemo(() => arrangeRows(value?.rows ?? [], search, sort), [value, search, sort]);

  if (failure) {
    return (
      <main className="place">
        <h1 className="visually-hidden">Register</h1>
        <ErrorNote failure={failure} />
      </main>
    );
  }
  if (!value) {
    return (
      <main className="place">
        <h1 className="visually-hidden">Register</h1>
        <Waiting what="Reading the register of poles and visits." />
      </main>
    );
  }
  if (value.rows.length === 0) return <EmptyRegister onImport={() => setImporting(true)} />;
  return (
    <main className="place register">
      <div className="register-head">
        <h1>Register</h1>
        <TextInput
          className="register-search"
          size="sm"
          aria-label="Search the register"
          placeholder="Search pole, species, finding, ruling"
          leftSection={<IconSearch size={15} />}
          rightSection={
            search !== '' && (
              <CloseButton size="sm" aria-label="Clear the search" onClick={() => setSearch('')} />
            )
          }
          value={search}
          onChange={(event) => setSearch(event.currentTarget.value)}
        />
        <span className="quiet" role="status">
          {rows.length === value.rows.length
            ? `${rows.length} visits`
            : `${rows.length} of ${value.rows.length} visits`}
        </span>
        <span className="spring" />
        <span className="quiet">↑ ↓ to walk, Enter to open a visit on the bench</span>
      </div>
      {rows.length === 0 ? (
        <p className="nothing">
          No visit holds all of these words.{' '}
          <Button size="compact-sm" variant="default" onClick={() => setSearch('')}>
            Show all visits
          </Button>
        </p>
      ) : (
        <RegisterTable rows={rows} />
      )}
      <Cautions sentences={cautions} />
    </main>
  );
}

function EmptyRegister({ onImport }: { onImport: () => void }) {
  return (
    <main className="place empty">
      <h1>No visits in this workspace yet</h1>
      <p>
        A visit is one trip to one pole: a visit file (*.visit.json) with what was measured, and the
        recordings of its strikes (WAV or CSV). Drop both anywhere on this window, or choose them.
      </p>
      <Button size="sm" onClick={onImport}>
        Bring in visits
      </Button>
    </main>
  );
}
