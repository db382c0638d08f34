import { Button, Menu } from '@mantine/core';
import { IconChevronDown } from '@tabler/icons-react';
import { useEffect, useState } from 'react';
import { callHost } from '../../client.ts';
import { loadAgain } from '../../loadAgain.ts';
import { ErrorNote } from '../../parts/index.ts';
import type { CallAnswer, Failure } from '../../types.ts';
import { readShelf, useShelf } from './useShelf.ts';

/** The open workspace in words, and those that were opened lately to change to. @param words - of the open one */
export function ShelfMenu({ words }: { words: string }) {
  const shelf = useShelf((s) => s.shelf);
  const [failure, setFailure] = useState<Failure | null>(null);
  useEffect(() => void readShelf(), []);
  if (!shelf) return <span className="quiet workspace-words">{words}</span>;
  const others = shelf.workspaces.filter(({ isOpen }) => !isOpen);

  async function change(asked: Promise<CallAnswer<'shelf.choose'>>): Promise<void> {
    const answer = await asked;
    if (!answer.ok) {
      setFailure({ code: answer.code, message: answer.message, hint: answer.hint });
      void readShelf();
      return;
    }
    if (answer.value.name !== null) loadAgain();
  }

  return (
    <>
      <Menu
        position="bottom-end"
        onOpen={() => void readShelf()}
        transitionProps={{ duration: 0 }}
        width={360}
      >
        <Menu.Target>
          <Button
            className="workspace-words"
            size="compact-sm"
            variant="subtle"
            color="gray"
            rightSection={<IconChevronDown size={14} />}
          >
            {words}
          </Button>
        </Menu.Target>
        <Menu.Dropdown>
          {others.length > 0 && <Menu.Label>Opened lately</Menu.Label>}
          {others.map(({ id, name, folder, isThere }) => (
            <Menu.Item
              key={id}
              disabled={!isThere}
              onClick={() => void change(callHost('shelf.open', { id }))}
            >
              <span className="shelf-name">{name}</span>
              <span className="quiet shelf-folder">{isThere ? folder : `no longer in ${folder}`}</span>
            </Menu.Item>
          ))}
          {others.some(({ isThere }) => !isThere) && (
            <Menu.Item
              onClick={() => {
                const gone = others.filter(({ isThere }) => !isThere);
                void Promise.all(gone.map(({ id }) => callHost('shelf.forget', { id }))).then(readShelf);
              }}
            >
              Forget those that are gone
            </Menu.Item>
          )}
          {others.length > 0 && <Menu.Divider />}
          {!shelf.canChoose && (
            <Menu.Label className="shelf-ways">
              Another workspace is opened where Stemroot was started, by the first, or made, empty, by the
              second:
              <code>npm start -- NAME.stemroot</code>
              <code>npm start -- NAME.stemroot --make</code>
            </Menu.Label>
          )}
          {shelf.canChoose && (
            <>
              <Menu.Item onClick={() => void change(callHost('shelf.choose', { make: false }))}>
                Open another workspace
              </Menu.Item>
              <Menu.Item onClick={() => void change(callHost('shelf.choose', { make: true }))}>
                Make a new workspace
              </Menu.Item>
            </>
          )}
        </Menu.Dropdown>
      </Menu>
      {failure && (
        <div className="shelf-failure">
          <ErrorNote failure={failure} />
          <Button size="compact-sm" variant="default" onClick={() => setFailure(null)}>
            Close
          </Button>
        </div>
      )}
    </>
  );
}
