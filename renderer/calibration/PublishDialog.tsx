import { Button, Textarea, TextInput } from '@mantine/core';
import { useState } from 'react';
import { callHost } from '../client.ts';
import { ErrorNote } from '../parts/index.ts';
import { forgetTyped, useAnswer, useTyped, useWindow } from '../state/index.ts';
import type { Failure } from '../types.ts';
import { AppraisalNote } from './AppraisalNote.tsx';
import type { Overview, Tests } from './calibrationTypes.ts';
import { SmallDialog } from './SmallDialog.tsx';
import { useCalibration } from './useCalibration.ts';

const NAME_FORM = /^[a-z0-9][a-z0-9-]*$/;

type PublishDialogProps = { overview: Overview | null; tests: Tests | null; onClose: () => void };

/** Says what is published, and keeps the shown relation for good, under a name and the next version of it. */
export function PublishDialog({ overview, tests, onClose }: PublishDialogProps) {
  const noteStored = useWindow((s) => s.noteStored);
  const { candidates, shown, leftOut, openView } = useCalibration();
  const candidate = candidates.find(({ name }) => name === shown) ?? candidates[0]!;
  const form = `publish ${candidate.name}`;
  const [name, setName] = useTyped(form, 'name', '');
  const [author, setAuthor] = useTyped(form, 'author', '');
  const [note, setNote] = useTyped(form, 'note', '');
  const [despite, setDespite] = useTyped(form, 'despite', '');
  const [failure, setFailure] = useState<Failure | null>(null);
  const stored = useWindow((s) => s.stored);
  const appraisal = useAnswer('calibration.appraise', { candidate, leftOut: [...leftOut] }, stored);
  const isWeak = (appraisal.value?.weaknesses.length ?? 0) > 0;
  const out = tests?.tests.filter(({ testId }) => leftOut.includes(testId)).length ?? 0;
  const isWrong = name !== '' && !NAME_FORM.test(name);

  async function publish(): Promise<void> {
    const answer = await callHost('calibration.publish', {
      candidate,
      leftOut: [...leftOut],
      name,
      author: author.trim(),
      note: note.trim(),
      despite: isWeak ? despite.trim() : '',
      ...(overview && tests && { seen: describeSeen(overview, tests, name) }),
    });
    if (!answer.ok) {
      if (answer.code === 'store.conflict') noteStored();
      return setFailure(answer);
    }
    noteStored();
    forgetTyped(form);
    openView('versions');
    onClose();
  }

  return (
    <SmallDialog title="Publish a calibration" size="lg" onClose={onClose}>
      <p>
        <strong>{candidate.name}</strong> is kept with its tests
        {out > 0 && `, ${out} of them left out`}. A published version never changes; under the same name the
        next one gets the next number. Results take it once it is put to use.
      </p>
      <AppraisalNote answer={appraisal} />
      <TextInput
        label="Name"
        description="Small letters, digits and hyphens"
        value={name}
        error={isWrong ? 'Small letters, digits and hyphens only' : undefined}
        onChange={(event) => setName(event.currentTarget.value)}
        data-autofocus
      />
      <TextInput label="Author" value={author} onChange={(event) => setAuthor(event.currentTarget.value)} />
      <Textarea
        label="Note"
        description="Where the tests are from, and what the relation is for"
        autosize
        minRows={2}
        value={note}
        onChange={(event) => setNote(event.currentTarget.value)}
      />
      {isWeak && (
        <Textarea
          label="Why it is published all the same"
          description="Kept in the trail, with your note"
          autosize
          minRows={2}
          value={despite}
          onChange={(event) => setDespite(event.currentTarget.value)}
        />
      )}
      {failure && <ErrorNote failure={failure} />}
      <div className="dialog-commands">
        <Button
          size="sm"
          disabled={
            name === '' ||
            isWrong ||
            author.trim() === '' ||
            note.trim() === '' ||
            appraisal.value === null ||
            appraisal.waiting ||
            (isWeak && despite.trim() === '')
          }
          onClick={() => void publish()}
        >
          Publish
        </Button>
      </div>
    </SmallDialog>
  );
}

/** The last set of tests, the last choice of them and the last version of the name, as this window knows them. */
function describeSeen({ calibrations }: Overview, { sets, lastChoice }: Tests, name: string) {
  const numbers = calibrations.flatMap(({ label, origin }) => {
    const [own, number] = label.split('@');
    return own === name && origin !== 'built in' ? [Number(number)] : [];
  });
  return {
    setId: sets.length > 0 ? Math.max(...sets.map(({ setId }) => setId)) : null,
    choice: lastChoice,
    number: Math.max(0, ...numbers),
  };
}
