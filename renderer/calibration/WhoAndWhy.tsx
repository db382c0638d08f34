import { Textarea, TextInput } from '@mantine/core';
import { useTyped } from '../state/index.ts';

/** Who chooses and why, as typed into a dialog. @param form - its name among what is typed */
export function useWhoAndWhy(form: string): { chosenBy: string; reason: string } {
  const [chosenBy] = useTyped(form, 'chosenBy', '');
  const [reason] = useTyped(form, 'reason', '');
  return { chosenBy: chosenBy.trim(), reason: reason.trim() };
}

/** The two fields for it. @param why - what the reason is called */
export function WhoAndWhy({ form, why }: { form: string; why: string }) {
  const [chosenBy, setChosenBy] = useTyped(form, 'chosenBy', '');
  const [reason, setReason] = useTyped(form, 'reason', '');
  return (
    <>
      <TextInput
        label="Your name"
        value={chosenBy}
        onChange={(event) => setChosenBy(event.currentTarget.value)}
        data-autofocus
      />
      <Textarea
        label={why}
        autosize
        minRows={2}
        value={reason}
        onChange={(event) => setReason(event.currentTarget.value)}
      />
    </>
  );
}
