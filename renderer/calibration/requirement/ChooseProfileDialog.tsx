import { Button, Textarea, TextInput } from '@mantine/core';
import { useState } from 'react';
import { callHost } from '../../client.ts';
import { ErrorNote } from '../../parts/index.ts';
import { forgetTyped, useRegister, useTyped, useWindow } from '../../state/index.ts';
import type { Failure } from '../../types.ts';
import type { KeptProfile } from '../calibrationTypes.ts';
import { SmallDialog } from '../SmallDialog.tsx';

/** Has poles compared with a profile, or with their class again where it is null. */
export function ChooseProfileDialog(props: {
  profile: KeptProfile | null;
  lastChoice: number;
  onClose: () => void;
}) {
  const { profile, lastChoice, onClose } = props;
  const noteStored = useWindow((s) => s.noteStored);
  const form = `choose profile ${profile?.profileId ?? 'none'}`;
  const [poles, setPoles] = useTyped(form, 'poles', '');
  const [chosenBy, setChosenBy] = useTyped(form, 'chosenBy', '');
  const [failure, setFailure] = useState<Failure | null>(null);
  const selected = useRegister((s) => s.selected);
  const inRegister = [...new Set([...selected.values()].map(({ poleId }) => poleId))];
  const poleIds = poles.split(/[\s,;]+/).filter(Boolean);

  async function choose(): Promise<void> {
    const answer = await callHost('profiles.choose', {
      profileId: profile?.profileId ?? null,
      poleIds,
      chosenBy: chosenBy.trim(),
      seenChoice: lastChoice,
    });
    if (!answer.ok) {
      if (answer.code === 'store.conflict') noteStored();
      return setFailure(answer);
    }
    noteStored();
    forgetTyped(form);
    onClose();
  }

  const title = profile ? `Choose ${profile.name}, version ${profile.number}` : 'Poles back to their class';
  return (
    <SmallDialog title={title} onClose={onClose}>
      <p>
        The poles are compared with {profile ? 'it' : 'the load of their class again'} from their next result
        on; recompute the workspace to bring all of them. Loads or a moment that a visit states itself come
        first.
      </p>
      <Textarea
        label="Poles, as the register has them"
        autosize
        minRows={3}
        maxRows={10}
        value={poles}
        onChange={(event) => setPoles(event.currentTarget.value)}
        data-autofocus
      />
      {inRegister.length > 0 && (
        <Button size="compact-sm" variant="default" onClick={() => setPoles(inRegister.join('\n'))}>
          Take the {inRegister.length === 1 ? 'one' : inRegister.length} chosen in the register
        </Button>
      )}
      <TextInput
        label="Your name"
        value={chosenBy}
        onChange={(event) => setChosenBy(event.currentTarget.value)}
      />
      {failure && <ErrorNote failure={failure} />}
      <div className="dialog-commands">
        <Button
          size="sm"
          disabled={chosenBy.trim() === '' || poleIds.length === 0}
          onClick={() => void choose()}
        >
          {profile ? 'Choose for' : 'Bring back'}{' '}
          {poleIds.length === 1 ? '1 pole' : `${poleIds.length} poles`}
        </Button>
      </div>
    </SmallDialog>
  );
}
