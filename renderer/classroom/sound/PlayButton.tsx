import { Button } from '@mantine/core';
import { IconPlayerPlay, IconPlayerStop } from '@tabler/icons-react';
import { ErrorNote } from '../../parts/index.ts';
import { useClassroom } from '../classroomStore.ts';
import type { Of } from '../classroomTypes.ts';
import { useSound } from './useSound.ts';

/** Plays one blow aloud, and stops it. @param name - of the blow, for screen readers */
export function PlayButton({ of, name }: { of: Of; name: string }) {
  const on = useClassroom((s) => s.sound);
  const { playing, failure, play, stop } = useSound(of);
  const Icon = playing ? IconPlayerStop : IconPlayerPlay;
  return (
    <>
      <Button
        size="compact-sm"
        variant="default"
        leftSection={<Icon size={15} />}
        disabled={!on}
        title={on ? undefined : 'Switch the sound on first'}
        aria-label={`${playing ? 'Stop' : 'Play'} ${name}`}
        onClick={playing ? stop : play}
      >
        {playing ? 'Stop' : 'Play'}
      </Button>
      {failure && <ErrorNote failure={failure} />}
    </>
  );
}
