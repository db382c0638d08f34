import { useComputedColorScheme, useMantineColorScheme } from '@mantine/core';
import { useEffect, useRef, useState } from 'react';
import { WINDOW_COMMANDS, type WindowCommandId } from '../../core/workspace/contract.ts';
import { hearCommands } from '../client.ts';
import { useWindow } from '../state/index.ts';
import { CommandFinder } from './CommandFinder.tsx';
import { KeyMap } from './KeyMap.tsx';
import { matchesKeys } from './keys.ts';

/** What can be done anywhere, by its keys, by the shell's menu, or found by its words. */
export function Commands() {
  const [open, setOpen] = useState<'finder' | 'keys' | null>(null);
  const { setColorScheme } = useMantineColorScheme();
  const scheme = useComputedColorScheme('light', { getInitialValueInEffect: false });
  const close = () => setOpen(null);

  function run(id: WindowCommandId): void {
    const { openPlace, setImporting } = useWindow.getState();
    setOpen(id === 'find' ? 'finder' : id === 'keys' ? 'keys' : null);
    if (id === 'bringIn') setImporting(true);
    else if (id === 'colours') setColorScheme(scheme === 'light' ? 'dark' : 'light');
    else if (id !== 'find' && id !== 'keys') openPlace(id);
  }
  const runRef = useRef(run);
  runRef.current = run;

  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      const command = WINDOW_COMMANDS.find(({ keys }) => matchesKeys(event, keys));
      if (!command) return;
      event.preventDefault();
      runRef.current(command.id);
    };
    window.addEventListener('keydown', press);
    const stop = hearCommands((id) => runRef.current(id));
    return () => {
      window.removeEventListener('keydown', press);
      stop();
    };
  }, []);

  if (open === 'finder') return <CommandFinder onRun={run} onClose={close} />;
  return open === 'keys' ? <KeyMap onClose={close} /> : null;
}
