import './commands.css';
import { CloseButton, Modal, TextInput } from '@mantine/core';
import { type KeyboardEvent, useId, useState } from 'react';
import { WINDOW_COMMANDS, type WindowCommandId } from '../../core/workspace/contract.ts';
import { nameKeys } from './keys.ts';

/** Commands by words of their titles and other words for them; Enter does the one that is marked. */
export function CommandFinder(props: { onRun: (id: WindowCommandId) => void; onClose: () => void }) {
  const { onRun, onClose } = props;
  const [words, setWords] = useState('');
  const [at, setAt] = useState(0);
  const listId = useId();
  const found = WINDOW_COMMANDS.filter(
    ({ id, title, alsoFor }) =>
      id !== 'find' &&
      words
        .toLowerCase()
        .split(/\s+/)
        .every((word) => `${title} ${alsoFor}`.toLowerCase().includes(word)),
  );
  const marked = Math.min(at, found.length - 1);

  function press(event: KeyboardEvent): void {
    if (event.key === 'ArrowDown') setAt(Math.min(marked + 1, found.length - 1));
    else if (event.key === 'ArrowUp') setAt(Math.max(marked - 1, 0));
    else if (event.key === 'Enter' && found[marked]) onRun(found[marked].id);
    else return;
    event.preventDefault();
  }

  return (
    <Modal.Root opened onClose={onClose} size="md" transitionProps={{ duration: 0 }}>
      <Modal.Overlay />
      <Modal.Content aria-label="Find a command">
        <Modal.Body>
          <div className="dialog-head">
            <h2>Find a command</h2>
            <CloseButton aria-label="Close" onClick={onClose} />
          </div>
          <TextInput
            aria-label="Words of the command"
            placeholder="Words of the command"
            role="combobox"
            aria-expanded
            aria-controls={listId}
            aria-activedescendant={found[marked] && `${listId}-${found[marked].id}`}
            value={words}
            onChange={(event) => {
              setWords(event.currentTarget.value);
              setAt(0);
            }}
            onKeyDown={press}
            data-autofocus
          />
          <div className="command-list" role="listbox" id={listId} aria-label="Commands">
            {found.map(({ id, title, keys }, i) => (
              // biome-ignore lint/a11y/useKeyWithClickEvents: the field above answers to the keys
              <div
                key={id}
                id={`${listId}-${id}`}
                role="option"
                tabIndex={-1}
                aria-selected={i === marked}
                onClick={() => onRun(id)}
              >
                <span>{title}</span>
                <kbd>{nameKeys(keys)}</kbd>
              </div>
            ))}
          </div>
          {found.length === 0 && <p className="nothing">No command has these words.</p>}
        </Modal.Body>
      </Modal.Content>
    </Modal.Root>
  );
}
