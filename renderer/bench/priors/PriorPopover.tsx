import { Button, Popover, TextInput } from '@mantine/core';
import { type ReactNode, useState } from 'react';

/** A button that opens a form over the bench. @param children - the form, given what closes it */
export function PriorPopover(props: {
  words: string;
  /** What a screen reader calls the button, where its words do not say it. */
  label?: string;
  children: (close: () => void) => ReactNode;
}) {
  const [open, setOpen] = useState(false);
  return (
    <Popover
      opened={open}
      onChange={setOpen}
      position="left"
      withArrow
      transitionProps={{ duration: 0 }}
      trapFocus
    >
      <Popover.Target>
        <Button size="compact-xs" variant="default" aria-label={props.label} onClick={() => setOpen(!open)}>
          {props.words}
        </Button>
      </Popover.Target>
      <Popover.Dropdown>{props.children(() => setOpen(false))}</Popover.Dropdown>
    </Popover>
  );
}

/** The end of such a form: what is wrong with the numbers together, why they are set, and the button that sets them. */
export function ReasonFields(props: {
  reason: string;
  wrong: { numbers?: string | undefined; reason?: string | undefined };
  waiting?: boolean;
  onChange: (reason: string) => void;
}) {
  const { numbers, reason } = props.wrong;
  return (
    <>
      {numbers && (
        <p role="alert" className="prior-wrong">
          {numbers}
        </p>
      )}
      <TextInput
        size="xs"
        className="prior-reason"
        label="Reason"
        value={props.reason}
        error={reason}
        maxLength={400}
        onChange={(event) => props.onChange(event.currentTarget.value)}
      />
      <Button size="compact-sm" type="submit" loading={props.waiting ?? false}>
        Set for this visit
      </Button>
    </>
  );
}
