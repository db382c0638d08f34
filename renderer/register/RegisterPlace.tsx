import './register.css';
import { Button } from '@mantine/core';
import { Cautions, ErrorNote, ScrollRegion, Waiting } from '../parts/index.ts';
import { FIRST_QUERY, useAnswer, useRegister, useWindow } from '../state/index.ts';
import type { RegisterRow } from '../types.ts';
import { BatchBar } from './BatchBar.tsx';
import { FilterBar } from './FilterBar.tsx';
import { FleetLine } from './FleetLine.tsx';
import { BEING_MADE, RegisterHead, tellToGo } from './RegisterHead.tsx';
import { RegisterTable } from './RegisterTable.tsx';
import { tellNeed } from './tellNeed.ts';
import { useKeptRegister } from './useKeptRegister.ts';
import { useRegisterRows } from './useRegisterRows.ts';

/** The first place: all visits, what waits for a person first. */
export function RegisterPlace() {
  const { setImporting, openPlace } = useWindow();
  const isRecalled = useKeptRegister();
  const { query, current, ask } = useRegister();
  const rows = useRegisterRows(query, current?.place ?? 0);
  const cautions = useAnswer('workspace.describe', {}).value?.cautions ?? [];
  const { found, failure } = rows;

  if (!found || !isRecalled) {
    return (
      <main className="place">
        <h1 className="visually-hidden">Register</h1>
        {failure ? (
          <ErrorNote failure={failure} />
        ) : (
          <Waiting what="Reading the register of poles and visits." />
        )}
      </main>
    );
  }
  if (found.total === 0 && found.unfinished > 0) {
    return (
      <main className="place">
        <h1 className="visually-hidden">Register</h1>
        <Waiting what={`Nothing to show yet: ${BEING_MADE}.`} />
        <p className="waiting">{tellToGo(found.unfinished)}</p>
      </main>
    );
  }
  if (found.total === 0)
    return <EmptyRegister onImport={() => setImporting(true)} onWrite={() => openPlace('intake')} />;
  const row = rows.rowAt(Math.min(current?.place ?? 0, found.matching - 1));
  return (
    <main className="place register">
      {failure && <ErrorNote failure={failure} />}
      <RegisterHead found={found} row={row} />
      <FleetLine />
      <FilterBar counts={found.counts} />
      <BatchBar matching={found.matching} />
      {found.matching === 0 ? (
        <p className="nothing">
          No visit passes this search and these filters.{' '}
          <Button
            size="compact-sm"
            variant="default"
            onClick={() => ask({ ...FIRST_QUERY, sort: query.sort })}
          >
            Show all visits
          </Button>
        </p>
      ) : (
        <RegisterTable rows={rows} matching={found.matching} />
      )}
      <RowWords row={row} />
      <Cautions sentences={cautions} />
    </main>
  );
}

/** The row at the keyboard in full, for which the table has no room. */
function RowWords({ row }: { row: RegisterRow | undefined }) {
  if (!row) return null;
  const { found, usable, faults } = row.strikes;
  return (
    <ScrollRegion label="The current visit in words" className="row-words">
      <strong>{row.poleId}</strong>, visit of {row.date}, {row.verdict}. Look because: {tellNeed(row)}.
      {found > 0 && (
        <>
          {' '}
          {usable} of {found} strikes usable
          {faults.length > 0 && ` (${faults.map((fault) => fault.replaceAll('-', ' ')).join(', ')})`}.
        </>
      )}
      {row.ruling && (
        <>
          {' '}
          Ruled “{row.ruling.decision}” by {row.ruling.analyst}
          {row.ruling.signed && `, signed by ${row.ruling.signed.person}`}: {row.ruling.reason}
        </>
      )}
      {row.findings.map((finding) => (
        <span key={finding.id + finding.text} className="quiet">
          {' '}
          {finding.text}
        </span>
      ))}
    </ScrollRegion>
  );
}

function EmptyRegister({ onImport, onWrite }: { onImport: () => void; onWrite: () => void }) {
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
      <Button size="sm" variant="default" onClick={onWrite}>
        Write a visit down
      </Button>
    </main>
  );
}
