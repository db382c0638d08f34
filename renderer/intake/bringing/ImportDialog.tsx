import './bringing.css';
import { Button, CloseButton, FileButton, Modal, Progress } from '@mantine/core';
import { type InputHTMLAttributes, useRef } from 'react';
import { useWindow } from '../../state/index.ts';
import type { ImportOutcome } from '../../types.ts';
import { beginDraft } from '../form/draftStore.ts';
import { bringIn } from './bringIn.ts';
import { useBringing } from './bringStore.ts';
import { describeProgress } from './describeProgress.ts';
import { fromDialog } from './foundFile.ts';

/** An attribute that browsers know and React's types do not. */
const FOLDER: InputHTMLAttributes<HTMLInputElement> & { webkitdirectory: string } = { webkitdirectory: '' };

/** Takes visit files, recordings, lessons and folders of them, and lists what became of each. */
export function ImportDialog() {
  const { importing, setImporting, openPlace } = useWindow();
  const { progress, outcomes, strays, set } = useBringing();
  const folderRef = useRef<HTMLInputElement>(null);

  function writeDown(files: readonly File[]): void {
    set({ strays: [] });
    setImporting(false);
    openPlace('intake');
    void beginDraft(files);
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
          <div className="drop-field">
            <p>
              Drop visit files (*.visit.json) with the recordings that they name, or whole folders of them,
              anywhere on this window, or
            </p>
            <div className="drop-buttons">
              <FileButton
                multiple
                onChange={(files) => void bringIn(fromDialog(files))}
                disabled={progress !== null}
              >
                {(props) => (
                  <Button {...props} size="sm">
                    Choose files
                  </Button>
                )}
              </FileButton>
              <Button
                size="sm"
                variant="default"
                disabled={progress !== null}
                onClick={() => folderRef.current?.click()}
              >
                Choose a folder
              </Button>
              <Button size="sm" variant="default" onClick={() => writeDown([])}>
                Write a visit down
              </Button>
            </div>
            <input
              {...FOLDER}
              ref={folderRef}
              type="file"
              hidden
              onChange={(event) => {
                const { files } = event.currentTarget;
                if (files) void bringIn(fromDialog(files));
                event.currentTarget.value = '';
              }}
            />
          </div>
          <div role="status">
            {progress && (
              <>
                <p>{describeProgress(progress, performance.now())}</p>
                <Progress value={(100 * progress.done) / progress.of} aria-label="Visits read" />
                <Button size="compact-sm" variant="default" onClick={() => set({ stopped: true })}>
                  Stop after this one
                </Button>
              </>
            )}
            {!progress && outcomes.length > 0 && <p>{summarise(outcomes)}</p>}
          </div>
          {!progress && strays.length > 0 && (
            <div className="strays">
              <p>
                No visit file names {strays.length === 1 ? 'this recording' : 'these recordings'}:{' '}
                {strays.map((file) => file.name).join(', ')}. Choose {strays.length === 1 ? 'it' : 'them'}{' '}
                together with the visit file, or write the visit down now. A table of break tests goes to
                Calibration instead.
              </p>
              <Button size="compact-sm" onClick={() => writeDown(strays)}>
                Write a visit down for {strays.length === 1 ? 'it' : 'them'}
              </Button>
            </div>
          )}
          {!progress && outcomes.length > 0 && <OutcomeList outcomes={outcomes} />}
        </Modal.Body>
      </Modal.Content>
    </Modal.Root>
  );
}

function OutcomeList({ outcomes }: { outcomes: readonly ImportOutcome[] }) {
  return (
    <ul className="outcomes">
      {outcomes.map((outcome, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: files of two folders may have one name.
        <li key={i}>
          <strong>{outcome.file}</strong>: {outcome.status}
          {outcome.poleId && ` (pole ${outcome.poleId})`}
          {outcome.caution && <span className="outcome-caution">Look again. {outcome.caution}</span>}
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
