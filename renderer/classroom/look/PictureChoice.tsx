import { Checkbox } from '@mantine/core';
import { RangeFields } from '../../parts/index.ts';
import type { Range } from '../../state/index.ts';
import { FIRST_FREQUENCY_RANGE_HZ, PICTURES, useClassroom } from '../classroomStore.ts';
import { SoundChoice } from '../sound/SoundChoice.tsx';

const TIME_DECIMALS = 2;
const FREQUENCY_DECIMALS = 0;
/** Half of the lowest usual sample rate. */
const HIGHEST_HZ = 500;

/**
 * Which pictures are shown, over which time and frequencies, and how.
 * @param axes - names of those that spectrogram and sound can be of
 * @param compares - whether two blows are shown, whose heights can be alike, and whose faults are marked
 */
export function PictureChoice({
  whole,
  axes,
  compares,
}: {
  whole: Range;
  axes: readonly string[];
  compares: boolean;
}) {
  const { view, marks, look, set } = useClassroom();
  const toggle = (picture: (typeof PICTURES)[number]) => {
    const pictures = PICTURES.filter((p) => view.pictures.includes(p) !== (p === picture));
    // one picture at least stays
    if (pictures.length > 0) look({ pictures });
  };
  return (
    <div className="picture-choice">
      <fieldset>
        <legend className="visually-hidden">Pictures</legend>
        {PICTURES.map((picture) => (
          <Checkbox
            key={picture}
            size="xs"
            label={picture}
            checked={view.pictures.includes(picture)}
            onChange={() => toggle(picture)}
          />
        ))}
      </fieldset>
      <RangeFields
        name="Time"
        unit="s"
        range={view.timeRangeS ?? whole}
        whole={whole}
        decimals={TIME_DECIMALS}
        onChange={(timeRangeS) => look({ timeRangeS })}
      />
      <RangeFields
        name="Frequency"
        unit="Hz"
        range={view.frequencyRangeHz}
        whole={[0, HIGHEST_HZ]}
        decimals={FREQUENCY_DECIMALS}
        onChange={(range) => look({ frequencyRangeHz: range ?? FIRST_FREQUENCY_RANGE_HZ })}
      />
      {compares && (
        <>
          <Checkbox
            size="xs"
            label="same height"
            checked={view.sameHeight}
            onChange={() => look({ sameHeight: !view.sameHeight })}
          />
          <Checkbox size="xs" label="mark faults" checked={marks} onChange={() => set({ marks: !marks })} />
        </>
      )}
      {view.pictures.includes('spectrogram') && (
        <>
          {axes.length > 0 && (
            <label>
              <span className="visually-hidden">Axis of spectrogram and sound</span>
              <select
                value={Math.min(view.channel, axes.length - 1)}
                onChange={(event) => look({ channel: Number(event.currentTarget.value) })}
              >
                {axes.map((axis, channel) => (
                  // biome-ignore lint/suspicious/noArrayIndexKey: axes have no other name than their place.
                  <option key={channel} value={channel}>
                    {axis}
                  </option>
                ))}
              </select>
            </label>
          )}
          <label>
            <span className="visually-hidden">What the spectrogram parts well</span>
            <select
              value={view.sharpIn}
              onChange={(event) =>
                look({ sharpIn: event.currentTarget.value === 'time' ? 'time' : 'frequency' })
              }
            >
              <option value="frequency">sharp in frequency</option>
              <option value="time">sharp in time</option>
            </select>
          </label>
        </>
      )}
      <SoundChoice />
    </div>
  );
}
