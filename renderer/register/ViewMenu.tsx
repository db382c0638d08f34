import { Button, Menu, Popover, TextInput } from '@mantine/core';
import { IconBookmark, IconTrash } from '@tabler/icons-react';
import { type FormEvent, useState } from 'react';
import { FIRST_QUERY, useRegister } from '../state/index.ts';
import type { RegisterQuery, SavedView } from '../types.ts';

/** Views that are of use to anybody, there from the start. */
const GIVEN: readonly SavedView[] = [
  { name: 'Doubtful, not ruled on', query: { ...FIRST_QUERY, ruled: 'waiting', latestOnly: true } },
  {
    name: 'Near the threshold',
    query: { ...FIRST_QUERY, reasons: ['near threshold'], latestOnly: true },
  },
  { name: 'Changed since the last visit', query: { ...FIRST_QUERY, reasons: ['changed'] } },
  { name: 'Faulty blows', query: { ...FIRST_QUERY, reasons: ['faulty blows'] } },
  { name: 'All visits', query: FIRST_QUERY },
];

/** Searches, filters and orders under a name; own ones are kept in the workspace. */
export function ViewMenu() {
  const { query, views, ask, setViews } = useRegister();
  const [naming, setNaming] = useState(false);
  const own = views.map(({ name }) => name);
  const current = [...GIVEN, ...views].find((view) => isSame(view.query, query));

  return (
    <Popover
      opened={naming}
      onChange={setNaming}
      position="bottom-end"
      transitionProps={{ duration: 0 }}
      trapFocus
      withRoles={false}
    >
      <Popover.Target>
        <span>
          <Menu position="bottom-end" transitionProps={{ duration: 0 }}>
            <Menu.Target>
              <Button size="compact-sm" variant="default" leftSection={<IconBookmark size={15} />}>
                {current ? current.name : 'Views'}
              </Button>
            </Menu.Target>
            <Menu.Dropdown>
              {[...GIVEN, ...views].map((view) => (
                <Menu.Item key={view.name} onClick={() => ask(view.query)}>
                  {view.name}
                </Menu.Item>
              ))}
              <Menu.Divider />
              <Menu.Item onClick={() => setNaming(true)}>Keep this view under a name</Menu.Item>
              {views.map(({ name }) => (
                <Menu.Item
                  key={`drop ${name}`}
                  leftSection={<IconTrash size={14} />}
                  onClick={() => setViews(views.filter((view) => view.name !== name))}
                >
                  Drop “{name}”
                </Menu.Item>
              ))}
            </Menu.Dropdown>
          </Menu>
        </span>
      </Popover.Target>
      <Popover.Dropdown role="dialog" aria-label="Keep this view">
        <NameForm
          taken={[...own, ...GIVEN.map(({ name }) => name)]}
          onName={(name) => {
            setViews([...views, { name, query }]);
            setNaming(false);
          }}
        />
      </Popover.Dropdown>
    </Popover>
  );
}

function NameForm({ taken, onName }: { taken: readonly string[]; onName: (name: string) => void }) {
  const [name, setName] = useState('');
  const [wrong, setWrong] = useState<string | null>(null);

  function keep(event: FormEvent): void {
    event.preventDefault();
    const given = name.trim();
    if (given === '') setWrong('Give the view a name');
    else if (taken.includes(given)) setWrong('A view has this name already');
    else onName(given);
  }

  return (
    <form onSubmit={keep} noValidate>
      <TextInput
        size="xs"
        label="Name of the view"
        value={name}
        maxLength={60}
        error={wrong}
        onChange={(event) => setName(event.currentTarget.value)}
      />
      <Button size="compact-sm" type="submit" mt={6}>
        Keep view
      </Button>
    </form>
  );
}

function isSame(a: RegisterQuery, b: RegisterQuery): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}
