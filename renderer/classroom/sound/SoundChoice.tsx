import { Switch } from '@mantine/core';
import { useClassroom } from '../classroomStore.ts';
import { describeSpeed, SPEEDS, type Speed } from './prepareSound.ts';

/** Sound on or off, and how fast; says what the speed does to what is heard. */
export function SoundChoice() {
  const { sound, speed, set } = useClassroom();
  return (
    <span className="sound-choice">
      <Switch
        size="xs"
        label="Sound"
        checked={sound}
        onChange={(event) => set({ sound: event.currentTarget.checked })}
      />
      {sound && (
        <>
          <label>
            <span className="visually-hidden">Speed of the sound</span>
            <select
              value={speed}
              onChange={(event) => set({ speed: Number(event.currentTarget.value) as Speed })}
            >
              {SPEEDS.map((times) => (
                <option key={times} value={times}>
                  {times} times as fast
                </option>
              ))}
            </select>
          </label>
          <span className="quiet">{describeSpeed(speed).replace(/^[^,]*, /, '')}</span>
        </>
      )}
    </span>
  );
}
