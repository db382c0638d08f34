import { Button, Checkbox, FileButton } from '@mantine/core';
import { type DragEvent, useState } from 'react';
import { fromSi, QUANTITIES, UNITS } from '../../../core/workspace/contract.ts';
import { callHost } from '../../client.ts';
import { ErrorNote } from '../../parts/index.ts';
import { useAnswer } from '../../state/index.ts';
import { formatSignificant } from '../../words/index.ts';
import type { Attached, UnitSystem } from '../intakeTypes.ts';
import { removeRow, setChannelUse, spreadChannel } from './changeAnswers.ts';
import { EXCITER_CHOICES } from './choices.ts';
import { attach, useDrafts } from './draftStore.ts';
import { useForm } from './FormContext.ts';
import { FormField } from './FormField.tsx';

/** Recordings of the visit: attached by dialog or drop, and what each channel is. */
export function RecordingFields({ draftId }: { draftId: string }) {
  const { answers, checked, tried, change } = useForm();
  const { failure, attaching } = useDrafts();
  const [over, setOver] = useState(false);
  const files = answers.recordings.map(({ file }) => file).join('\n');
  const attached = useAnswer('intake.attached', { draft: draftId }, files.length + (attaching ? 1 : 0));
  const wrong = checked?.problems.filter(({ field }) => field === 'recordings') ?? [];

  function drop(event: DragEvent): void {
    event.preventDefault();
    // the window would bring them in as visits
    event.stopPropagation();
    setOver(false);
    void attach(draftId, [...event.dataTransfer.files]);
  }
  async function detach(index: number): Promise<void> {
    const { file } = answers.recordings[index]!;
    await callHost('intake.detach', { draft: draftId, file });
    change((all) => removeRow(all, 'recordings', index));
  }

  return (
    <fieldset className="form-group">
      <legend>Recordings</legend>
      {answers.recordings.map((recording, r) => (
        <RecordingCard
          key={recording.file}
          index={r}
          attached={attached.value?.recordings.find(({ file }) => file === recording.file) ?? null}
          onDetach={() => void detach(r)}
        />
      ))}
      {/* biome-ignore lint/a11y/noStaticElementInteractions: dropping is a second way; the button does the same. */}
      <div
        className={over ? 'drop-field is-over' : 'drop-field'}
        onDragOver={(event) => {
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={drop}
      >
        <FileButton
          multiple
          accept=".wav,.csv,.uff,.unv,.txt"
          onChange={(chosen) => void attach(draftId, chosen)}
        >
          {(props) => (
            <Button {...props} size="compact-sm" variant="default">
              Attach recordings
            </Button>
          )}
        </FileButton>
        <span className="quiet"> or drop them here: WAV, CSV or universal file 58.</span>
      </div>
      <p role="status">{attaching && `Reading ${attaching}.`}</p>
      {failure && <ErrorNote failure={failure} />}
      {wrong.map(({ level, words }) =>
        level === 'odd' || tried ? (
          <p key={words} className={`form-problem is-${level}`}>
            <strong>{level === 'wrong' ? 'Wrong:' : 'Look again:'}</strong> {words}
          </p>
        ) : null,
      )}
    </fieldset>
  );
}

function RecordingCard(props: { index: number; attached: Attached | null; onDetach(): void }) {
  const { index, attached, onDetach } = props;
  const { answers, units, checked, change } = useForm();
  const { file, channels } = answers.recordings[index]!;
  const own = checked?.problems.filter(({ field }) => field === `recordings.${index}`) ?? [];
  return (
    <section className="form-recording" aria-label={file}>
      <header>
        <h2>{file}</h2>
        {attached && (
          <span className="quiet">
            {attached.durationS.toFixed(1)} s at {formatSignificant(attached.sampleRateHz, 5)} Hz,{' '}
            {attached.channels} channels, in {attached.unit === 'm/s2' ? 'm/s²' : 'fractions of full scale'}
          </span>
        )}
        <span className="spring" />
        <Button size="compact-xs" variant="default" aria-label={`Take out ${file}`} onClick={onDetach}>
          Take out
        </Button>
      </header>
      {attached?.warnings.map((warning) => (
        <p key={warning} className="form-problem is-odd">
          {warning}
        </p>
      ))}
      {own.map(({ level, words }) => (
        <p key={words} className={`form-problem is-${level}`}>
          <strong>{level === 'wrong' ? 'Wrong:' : 'Look again:'}</strong> {words}
        </p>
      ))}
      <div className="form-grid">
        <FormField path={`recordings.${index}.exciter`} label="Struck by" choices={EXCITER_CHOICES} />
        <FormField path={`recordings.${index}.strikeHeight`} label="Height of the blow" />
        <FormField path={`recordings.${index}.strikeAzimuth`} label="Direction of the blow" symbol="°" />
      </div>
      {channels.map((channel, c) => {
        const path = `recordings.${index}.channels.${c}`;
        const peak = attached?.peaks[channel.index];
        return (
          <div className="form-channel" key={channel.index}>
            <Checkbox
              size="xs"
              label={`Channel ${channel.index + 1}`}
              description={
                peak === undefined ? undefined : `greatest ${sayPeak(peak, attached!.unit, units)}`
              }
              checked={channel.used}
              onChange={(event) => {
                const { checked: used } = event.currentTarget;
                change((all) => setChannelUse(all, index, c, used));
              }}
            />
            {channel.used && (
              <div className="form-grid">
                <FormField path={`${path}.azimuth`} label="Axis points to" symbol="°" needed />
                <FormField
                  path={`${path}.fullScale`}
                  label="Full scale"
                  needed={attached?.needsFullScale ?? false}
                  help="Of sensor and recorder together."
                />
                <FormField
                  path={`${path}.corner`}
                  label="Corner"
                  symbol="Hz"
                  help="Below it little passes."
                />
                <FormField path={`${path}.height`} label="Height" help="None given: that of the sensor." />
                {index === 0 && c === 0 && (
                  <Button
                    className="form-spread"
                    size="compact-xs"
                    variant="default"
                    disabled={channel.fullScale.text === '' && channel.corner.text === ''}
                    onClick={() => change((all) => spreadChannel(all, index, c))}
                  >
                    Full scale and corner for all channels
                  </Button>
                )}
              </div>
            )}
          </div>
        );
      })}
    </section>
  );
}

function sayPeak(peak: number, unit: Attached['unit'], units: UnitSystem): string {
  if (unit === 'full scale') return `${formatSignificant(peak)} of full scale`;
  const id = QUANTITIES.acceleration[units];
  return `${formatSignificant(fromSi(peak, id))} ${UNITS[id].symbol}`;
}
