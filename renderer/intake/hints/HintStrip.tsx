import { Button } from '@mantine/core';
import { IconBulb } from '@tabler/icons-react';
import { useEffect } from 'react';
import { useAnswer, useWindow } from '../../state/index.ts';
import { prefer, useShelf } from '../shelf/useShelf.ts';
import { findHint } from './hints.ts';

/** Opening a visit is what the first hint asks for, so it has been followed. */
const FOLLOWED_ON_BENCH = 'register';

/** One hint at a time for somebody new, which goes once it was read and stays away. */
export function HintStrip() {
  const place = useWindow((s) => s.place);
  const preferences = useShelf((s) => s.shelf?.preferences);
  const done = preferences?.hintsDone ?? [];
  const follows = preferences?.hints && place === 'bench' && !done.includes(FOLLOWED_ON_BENCH);
  useEffect(() => {
    if (follows) void prefer({ hintsDone: [...done, FOLLOWED_ON_BENCH] });
  });
  const stored = useWindow((s) => s.stored);
  const workspace = useAnswer('workspace.describe', {}, stored).value;
  if (!preferences?.hints || !workspace) return null;
  const hint = findHint(place, done, workspace.visits);
  if (!hint) return null;
  return (
    <aside className="hint-strip" aria-label="Hint">
      <IconBulb size={16} aria-hidden />
      <p>{hint.words}</p>
      <Button
        size="compact-xs"
        variant="default"
        onClick={() => void prefer({ hintsDone: [...done, hint.id] })}
      >
        Got it
      </Button>
      <Button size="compact-xs" variant="default" onClick={() => void prefer({ hints: false })}>
        No more hints
      </Button>
    </aside>
  );
}
