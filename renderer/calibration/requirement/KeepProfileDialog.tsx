import { Button, TextInput } from '@mantine/core';
import { useState } from 'react';
import { callHost } from '../../client.ts';
import { ErrorNote } from '../../parts/index.ts';
import { forgetTyped, useTyped, useWindow } from '../../state/index.ts';
import type { Failure } from '../../types.ts';
import { SmallDialog } from '../SmallDialog.tsx';
import { useCalibration } from '../useCalibration.ts';

const FORM = 'keep a profile';

/** Keeps what is entered as the next version of its name, with who says so. */
export function KeepProfileDialog({ onClose }: { onClose: () => void }) {
  const noteStored = useWindow((s) => s.noteStored);
  const { profile } = useCalibration().requirement;
  const [author, setAuthor] = useTyped(FORM, 'author', '');
  const [failure, setFailure] = useState<Failure | null>(null);

  async function keep(): Promise<void> {
    const answer = await callHost('profiles.keep', { profile, author: author.trim() });
    if (!answer.ok) return setFailure(answer);
    noteStored();
    forgetTyped(FORM);
    onClose();
  }

  return (
    <SmallDialog title={`Keep ${profile.name}`} onClose={onClose}>
      <p>It becomes the next version of its name and stays as it is. Choose it for poles afterwards.</p>
      <TextInput
        label="Your name"
        value={author}
        onChange={(event) => setAuthor(event.currentTarget.value)}
        data-autofocus
      />
      {failure && <ErrorNote failure={failure} />}
      <div className="dialog-commands">
        <Button size="sm" disabled={author.trim() === ''} onClick={() => void keep()}>
          Keep it
        </Button>
      </div>
    </SmallDialog>
  );
}
