import './importing.css';
import { Button, CloseButton, FileButton, Modal, Progress } from '@mantine/core';
import { type DragEvent, useState } from 'react';
import { callHost } from '../client.ts';
import { useWindow } from '../state/index.ts';
import type { ImportOutcome } from '../types.ts';
import { groupFiles } from './groupFiles.ts';
import { readBase64 } from './readBase64.ts';

type Progressed = { done: number; of: number; now: string };

/** Takes visit files and recordings and lists what became of each. */
export function ImportDialog() {
  const { importing, setImporting, noteStored } = useWindow();
  const [progress, setProgress] = useState<Progressed | null>(null);
  const [outcomes, setOutcomes] = useState<ImportOutcome[]>([]);
  const [over, setOver] = useState(false);

  async function bringIn(files: readonly File[]): Promise<void> {
    if (files.length === 0) return;
    const { groups, leftOver } = await groupFiles(files);
    const found: ImportOutcome[] = leftOver.map(sayLeftOver);
    for (const [done, group] of groups.entries()) {
      setProgress({ done, of: groups.length, now: group.visitFile.name });
      const sent = [group.visitFile, ...group.recordings];
      const answer = await callHost('visits.import', {
        files: await Promise.all(sent.map(async (f) => ({ name: f.name, base64: await readBase64(f) }))),
      });
      if (answer.ok) found.push(...answer.value.outcomes);
      else found.push(failedOutcome(group.visitFile.name, answer));
    }
    setProgress(null);
    setOutcomes(found);
    noteStored();
  }

  function drop(event: DragEvent): void {
    event.preventDefault();
    setOver(false);
    void bringIn([...event.dataTransfer.files]);
  }

  return (
    <Modal.Root
      opened={importing}
      onClose={() => setImporting(false)}
      size="lg"
      transitionProps={{ duration: 0 }}
    >
      <Modal.Overlay />
      <Modal.Content aria-label="Bring in visits">
        <Modal.Body>
          <div className="dialog-head">
            <h2>Bring in visits</h2>
            <CloseButton aria-label="Close" onClick={() => setImporting(false)} />
          </div>
          {/* biome-ignore lint/a11y/noStaticElementInteractions: dropping is a second way; the button below does the same. */}
          <div
            className={over ? 'drop-field is-over' : 'drop-field'}
            onDragOver={(event) => {
              event.preventDefault();
              setOver(true);
            }}
            onDragLeave={() => setOver(false)}
            onDrop={drop}
          >
            <p>Drop visit files (*.visit.json) here together with the recordings that they name, or</p>
            <FileButton multiple onChange={(files) => void bringIn(files)} disabled={progress !== null}>
              {(props) => (
                <Button {...props} size="sm">
                  Choose files
                </Button>
              )}
            </FileButton>
          </div>
          <div role="status">
            {progress && (
              <>
                <p>
                  Reading {progress.now}: visit {progress.done + 1} of {progress.of}
                </p>
                <Progress value={(100 * progress.done) / progress.of} aria-label="Visits read" />
              </>
            )}
            {!progress && outcomes.length > 0 && <p>{summarise(outcomes)}</p>}
          </div>
          {!progress && outcomes.length > 0 && <OutcomeList outcomes={outcomes} />}
        </Modal.Body>
      </Modal.Content>
    </Modal.Root>
  );
}

function OutcomeList({ outcomes }: { outcomes: readonly ImportOutcome[] }) {
  return (
    <ul className="outcomes">
      {outcomes.map((outcome) => (
        <li key={outcome.file}>
          <strong>{outcome.file}</strong>: {outcome.status}
          {outcome.poleId && ` (pole ${outcome.poleId})`}
          {outcome.error && (
            <span className="outcome-error">
              {outcome.error.message} {outcome.error.hint}
            </span>
          )}
        </li>
      ))}
    </ul>
  );
}

function summarise(outcomes: readonly ImportOutcome[]): string {
  const count = (status: ImportOutcome['status']) => outcomes.filter((o) => o.status === status).length;
  return `${count('imported')} brought in, ${count('already there')} already there, ${count('failed')} failed.`;
}

function failedOutcome(file: string, error: { code: string; message: string; hint: string }): ImportOutcome {
  const { code, message, hint } = error;
  return { file, visitId: null, poleId: null, status: 'failed', error: { code, message, hint } };
}

function sayLeftOver(file: File): ImportOutcome {
  return failedOutcome(file.name, {
    code: 'window.unnamed-recording',
    message: 'No visit file among these names this recording.',
    hint: 'Choose it together with the visit file that names it.',
  });
}
