import { Button, TextInput } from '@mantine/core';
import { type ReactNode, useState } from 'react';
import { FAULTS } from '../../../core/workspace/contract.ts';
import { ErrorNote } from '../../parts/index.ts';
import { useWindow } from '../../state/index.ts';
import type { Blow, FaultId } from '../classroomTypes.ts';
import { listFaults } from '../nameFault.ts';
import { useFoundBlows } from './useFoundBlows.ts';

type Wanted = FaultId | 'any' | 'none' | null;

/** Blows of the whole workspace by words and fault. @param actions - what can be done with each */
export function BlowSearch({ actions }: { actions: (blow: Blow) => ReactNode }) {
  const stored = useWindow((s) => s.stored);
  const [words, setWords] = useState('');
  const [fault, setFault] = useState<Wanted>(null);
  const { blows, looked, left, searching, failure, stop } = useFoundBlows({ words, fault }, stored);
  return (
    <div className="blow-search">
      <TextInput
        size="xs"
        aria-label="Search blows"
        placeholder="Pole, date, hammer or hand"
        value={words}
        onChange={(event) => setWords(event.currentTarget.value)}
      />
      <label>
        <span className="visually-hidden">Fault of the blows</span>
        <select
          value={fault ?? ''}
          onChange={(event) => setFault((event.currentTarget.value || null) as Wanted)}
        >
          <option value="">all blows</option>
          <option value="none">blows with nothing wrong</option>
          <option value="any">blows with any fault</option>
          {FAULTS.map(({ id, name }) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <p className="quiet" role="status">
        {describeSearch(blows.length, looked, left, searching)}
        {searching && left > 0 && (
          <>
            {' '}
            <Button size="compact-xs" variant="default" onClick={stop}>
              Stop
            </Button>
          </>
        )}
      </p>
      {failure && <ErrorNote failure={failure} />}
      <ul className="blow-list" aria-label="Blows of the workspace">
        {blows.map((blow) => (
          <li key={`${blow.visitId} ${blow.recording} ${blow.startS}`}>
            <span className="blow-title">
              {blow.poleId}, {blow.exciter} at {blow.startS.toFixed(1)} s
            </span>
            <span className="quiet">
              {blow.visitDate}: {listFaults(blow.faults)}
            </span>
            <span className="blow-actions">{actions(blow)}</span>
          </li>
        ))}
      </ul>
    </div>
  );
}

function describeSearch(found: number, looked: number, left: number, searching: boolean): string {
  const blows = `${found} ${found === 1 ? 'blow' : 'blows'}`;
  if (searching) return `${blows} so far; ${looked} of ${looked + left} visits looked through.`;
  return left === 0 ? `${blows} in ${looked} visits.` : `${blows}; ${left} visits were not looked through.`;
}
