import { useEffect, useState } from 'react';
import { callHost } from '../../client.ts';
import type { Failure } from '../../types.ts';
import { useClassroom } from '../classroomStore.ts';
import type { Of } from '../classroomTypes.ts';
import { playSound, stopSound } from './playSound.ts';
import { prepareSound } from './prepareSound.ts';

/** Plays a blow; tells whether it plays, and what went wrong. Stops where the blow changes, goes away, or sound is put off. */
export function useSound(of: Of): { playing: boolean; failure: Failure | null; play(): void; stop(): void } {
  const { sound, speed, view } = useClassroom();
  const [playing, setPlaying] = useState(false);
  const [failure, setFailure] = useState<Failure | null>(null);
  const key = JSON.stringify(of);

  // biome-ignore lint/correctness/useExhaustiveDependencies: another blow, or no sound, ends what plays.
  useEffect(() => stopSound, [key, sound]);

  async function play(): Promise<void> {
    const answer = await callHost('classroom.sound', { of, channel: view.channel });
    if (!answer.ok) {
      setFailure({ code: answer.code, message: answer.message, hint: answer.hint });
      return;
    }
    setFailure(null);
    // put off while the samples were on their way
    if (!useClassroom.getState().sound) return;
    const { samplesMPerS2, sampleRateHz } = answer.value;
    playSound(prepareSound(samplesMPerS2, sampleRateHz, speed), () => setPlaying(false));
    setPlaying(true);
  }
  return { playing, failure, play: () => void play(), stop: stopSound };
}
