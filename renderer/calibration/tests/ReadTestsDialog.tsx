import './tests.css';
import { Button, FileButton, TextInput } from '@mantine/core';
import { type DragEvent, useState } from 'react';
import { callHost } from '../../client.ts';
import { ErrorNote, readBase64, Waiting } from '../../parts/index.ts';
import { forgetTyped, useTyped, useWindow } from '../../state/index.ts';
import type { CallResponse, Failure } from '../../types.ts';
import { SmallDialog } from '../SmallDialog.tsx';
import { AlreadyHere, type Answer, usualAnswer } from './AlreadyHere.tsx';
import { DifferingTests } from './DifferingTests.tsx';
import { leaveOutAgain } from './leaveOutAgain.ts';
import { MappingTable } from './MappingTable.tsx';
import { RefusedRows } from './RefusedRows.tsx';
import { UnknownSpecies } from './UnknownSpecies.tsx';

type Reading = CallResponse<'calibration.readTests'>;
type Mapping = Reading['mapping'];
const FORM = 'break tests';

type Chosen = { fileName: string; base64: string };

/** Takes a table of break tests: proposes what its columns hold, says what it would keep and refuse, and keeps it. */
export function ReadTestsDialog({ onClose }: { onClose: () => void }) {
  const noteStored = useWindow((s) => s.noteStored);
  const [chosen, setChosen] = useTyped<Chosen | null>(FORM, 'chosen', null);
  const [reading, setReading] = useTyped<Reading | null>(FORM, 'reading', null);
  const [said, setSaid] = useTyped<Answer | null>(FORM, 'answer', null);
  const [chosenBy, setChosenBy] = useTyped(FORM, 'chosenBy', '');
  const [failure, setFailure] = useState<Failure | null>(null);

  const here = reading?.alreadyHere ?? null;
  const answer = here && (said ?? usualAnswer(here));

  async function read(file: Chosen, mapping?: Mapping): Promise<void> {
    setChosen(file);
    const answer = await callHost('calibration.readTests', { ...file, ...(mapping && { mapping }) });
    setFailure(answer.ok ? null : answer);
    if (answer.ok) setReading(answer.value);
  }

  async function take(file: File | null | undefined): Promise<void> {
    if (!file) return;
    setReading(null);
    setSaid(null);
    await read({ fileName: file.name, base64: await readBase64(file) });
  }

  async function keep(): Promise<void> {
    if (!chosen || !reading) return;
    const kept = await callHost('calibration.keepTests', {
      ...{ ...chosen, mapping: reading.mapping },
      ...(here && answer && { alreadyHere: { answer, earlier: here.earlier, chosenBy: chosenBy.trim() } }),
    });
    if (!kept.ok) {
      if (kept.code === 'store.conflict') await read(chosen, reading.mapping);
      return setFailure(kept);
    }
    leaveOutAgain(kept.value.replaced);
    noteStored();
    forgetTyped(FORM);
    onClose();
  }

  return (
    <SmallDialog title="Bring in break tests" size="80rem" onClose={onClose}>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: dropping is a second way; the button below does the same. */}
      <div
        className="drop-field"
        onDragOver={(event) => event.preventDefault()}
        onDrop={(event: DragEvent) => {
          event.preventDefault();
          event.stopPropagation();
          void take(event.dataTransfer.files[0]);
        }}
      >
        <p>
          {chosen
            ? chosen.fileName
            : 'Drop a table here (CSV, one pole a row, a header with names and units), or'}
        </p>
        <FileButton accept=".csv,.txt,.tsv,text/csv" onChange={(file) => void take(file)}>
          {(props) => (
            <Button {...props} size="sm" variant={chosen ? 'default' : 'filled'}>
              {chosen ? 'Another file' : 'Choose a file'}
            </Button>
          )}
        </FileButton>
      </div>
      {failure && <ErrorNote failure={failure} />}
      {chosen && !reading && !failure && <Waiting what={`Reading ${chosen.fileName}.`} />}
      {chosen && reading && (
        <>
          <MappingTable reading={reading} onChange={(mapping) => void read(chosen, mapping)} />
          {reading.lacks.length > 0 && (
            <ul className="lacks" role="alert">
              {reading.lacks.map((lack) => (
                <li key={lack}>{lack}</li>
              ))}
            </ul>
          )}
          <p role="status">{describe(reading)}</p>
          {reading.notes.length > 0 && (
            <ul className="lacks" role="alert">
              {reading.notes.map((note) => (
                <li key={note}>{note}</li>
              ))}
            </ul>
          )}
          {reading.differing.length > 0 && (
            <DifferingTests reading={reading} onChange={(mapping) => void read(chosen, mapping)} />
          )}
          {reading.unknownSpecies.length > 0 && (
            <UnknownSpecies reading={reading} onChange={(mapping) => void read(chosen, mapping)} />
          )}
          {reading.refused.length > 0 && <RefusedRows refused={reading.refused} />}
          {here && (
            <>
              <AlreadyHere here={here} answer={answer} onAnswer={setSaid} />
              <TextInput
                label="Your name"
                value={chosenBy}
                onChange={(event) => setChosenBy(event.currentTarget.value)}
              />
            </>
          )}
          <div className="dialog-commands">
            <Button
              size="sm"
              disabled={
                reading.readable === 0 ||
                reading.lacks.length > 0 ||
                reading.keptAs !== null ||
                (here !== null && (answer === null || chosenBy.trim() === ''))
              }
              onClick={() => void keep()}
            >
              Keep {reading.readable - (answer === 'leave-out' ? here!.tests : 0)} tests
            </Button>
          </div>
        </>
      )}
    </SmallDialog>
  );
}

function describe({ rows, readable, linked, refused, lacks, keptAs }: Reading): string {
  if (keptAs !== null)
    return 'This very table is here already. Where it is set aside, take it up again in the list of tables.';
  if (lacks.length > 0) return `${rows} rows; columns are still to be named.`;
  const lines = new Set(refused.map(({ line }) => line)).size;
  const parts = [`${readable} of ${rows} rows can be taken`];
  if (lines > 0) parts.push(`${lines} cannot, with reasons below`);
  if (linked > 0)
    parts.push(
      `${linked} of them ${linked === 1 ? 'is linked to a visit: its' : 'are linked to visits: their'} stiffness and frequencies come from there`,
    );
  return `${parts.join('; ')}.`;
}
