import { Button, SegmentedControl } from '@mantine/core';
import { useDebouncedValue } from '@mantine/hooks';
import { useMemo, useState } from 'react';
import { callHost } from '../../client.ts';
import { ErrorNote, ScrollRegion, saveFile } from '../../parts/index.ts';
import { useAnswer, useWindow } from '../../state/index.ts';
import type { Failure } from '../../types.ts';
import type { UnitSystem } from '../intakeTypes.ts';
import { prefer } from '../shelf/useShelf.ts';
import { changeEntry } from './changeAnswers.ts';
import { changeDraft, endDraft, useDrafts } from './draftStore.ts';
import type { Draft } from './drafts.ts';
import { type FormAccess, FormProvider } from './FormContext.ts';
import { FormSummary } from './FormSummary.tsx';
import { MeasuredFields } from './MeasuredFields.tsx';
import { changeUnits } from './otherUnit.ts';
import { PoleFields } from './PoleFields.tsx';
import { RecordingFields } from './RecordingFields.tsx';

/** Answers are checked when the keys rest for this long. */
const REST_MS = 120;

/** A visit while it is written down: fields at the left, what is missing or odd at the right. */
export function VisitForm({ draft }: { draft: Draft }) {
  const { id, answers, rows, units } = draft;
  const { noteStored, openVisit } = useWindow();
  const [rested] = useDebouncedValue(answers, REST_MS);
  const { value: checked } = useAnswer('intake.check', { draft: id, units, answers: rested });
  const [tried, setTried] = useState(false);
  const [asking, setAsking] = useState(false);
  const [failure, setFailure] = useState<Failure | null>(null);
  const form = useMemo(
    (): FormAccess => ({
      answers,
      rows,
      units,
      checked,
      tried,
      change: (change) => changeDraft(id, change),
      setEntry: (path, entry) => changeDraft(id, (all) => changeEntry(all, path, entry)),
    }),
    [answers, rows, units, checked, tried, id],
  );

  function setUnits(next: UnitSystem): void {
    const { drafts, set } = useDrafts.getState();
    set({
      changedAt: new Date().toISOString(),
      drafts: drafts.map((other) =>
        other.id === id
          ? { ...other, units: next, answers: changeUnits(answers, next), rows: changeUnits(rows, next) }
          : other,
      ),
    });
    void prefer({ units: next });
  }
  function told({ code, message, hint }: Failure): void {
    setFailure({ code, message, hint });
  }

  async function save(): Promise<void> {
    setTried(true);
    const answer = await callHost('intake.write', { draft: id, units, answers });
    if (!answer.ok) return told(answer);
    setFailure(null);
    saveFile(answer.value.fileName, answer.value.text, 'application/json');
  }
  async function bringIn(): Promise<void> {
    setTried(true);
    const answer = await callHost('intake.finish', { draft: id, units, answers });
    if (!answer.ok) return told(answer);
    const { outcome, habits } = answer.value;
    if (outcome.error) return told(outcome.error);
    useDrafts.getState().set({ habits });
    endDraft(id);
    noteStored();
    if (outcome.visitId !== null) openVisit(outcome.visitId);
  }
  async function giveUp(): Promise<void> {
    await callHost('intake.giveUp', { draft: id });
    endDraft(id);
  }

  return (
    <FormProvider value={form}>
      <div className="form-body">
        <ScrollRegion className="form-fields" label="What was written down">
          <div className="form-units">
            <span id="units-of-form">Units for what you type next</span>
            <SegmentedControl
              size="xs"
              aria-labelledby="units-of-form"
              data={[
                { value: 'metric', label: 'm, cm, kg' },
                { value: 'us', label: 'ft, in, lb' },
              ]}
              value={units}
              onChange={(next) => setUnits(next as UnitSystem)}
            />
            <span className="quiet">
              What is typed stays as it was typed; it is converted once, when the visit is written.
            </span>
          </div>
          <div data-group="pole">
            <PoleFields />
          </div>
          <div data-group="circumferences">
            <MeasuredFields />
          </div>
          <div data-group="recordings">
            <RecordingFields draftId={id} />
          </div>
        </ScrollRegion>
        <aside className="form-summary" aria-label="What is missing or odd">
          <div className="form-actions">
            <Button size="compact-sm" onClick={() => void bringIn()}>
              Bring the visit in
            </Button>
            <Button size="compact-sm" variant="default" onClick={() => void save()}>
              Save a copy as file
            </Button>
            {asking ? (
              <span role="alert">
                Give up all that was typed here?{' '}
                <Button size="compact-sm" variant="default" onClick={() => void giveUp()}>
                  Give up
                </Button>{' '}
                <Button size="compact-sm" variant="default" onClick={() => setAsking(false)}>
                  Keep on
                </Button>
              </span>
            ) : (
              <Button size="compact-sm" variant="default" onClick={() => setAsking(true)}>
                Give it up
              </Button>
            )}
          </div>
          {failure && <ErrorNote failure={failure} />}
          <div role="status">
            <FormSummary answers={answers} checked={checked} />
          </div>
        </aside>
      </div>
    </FormProvider>
  );
}
