import { Button } from '@mantine/core';
import { IconPlayerPlay, IconPlayerStop } from '@tabler/icons-react';
import { ErrorNote } from '../../parts/index.ts';
import { useClassroom } from '../classroomStore.ts';
import type { Of } from '../classroomTypes.ts';
import { useSound } from './useSound.ts';

/** Plays one blow aloud, and stops it. A class is silent until somebody asks for sound: here or at its switch. @param name - of the blow, for screen readers */
export function PlayButton({ of, name }: { of: Of; name: string }) {
  const { sound: isOn, set } = useClassroom();
  const { playing, failure, play, stop } = useSound(of);
  const Icon = playing ? IconPlayerStop : IconPlayerPlay;
  return (
    <>
      <Button
        size="compact-sm"
        variant="default"
        leftSection={<Icon size={15} />}
        title={isOn ? undefined : 'Switches the sound on and plays'}
        aria-label={`${playing ? 'Stop' : 'Play'} ${name}`}
        onClick={() => {
          if (playing) return stop();
          if (!isOn) set({ sound: true });
          play();
        }}
      >
        {playing ? 'Stop' : 'Play'}
      </Button>
      {failure && <ErrorNote failure={failure} />}
    </>
  );
}
