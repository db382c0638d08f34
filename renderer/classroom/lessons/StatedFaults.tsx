import { Checkbox } from '@mantine/core';
import { FAULTS } from '../../../core/workspace/contract.ts';
import type { LessonBlow } from '../classroomTypes.ts';
import { listFaults } from '../nameFault.ts';

type StatedFaultsProps = {
  /** Of the blow, for screen readers. */
  name: string;
  stated: LessonBlow['statedFaults'];
  onChange(stated: LessonBlow['statedFaults']): void;
};

/** What the maker of a lesson knows to be wrong with a blow, apart from what the checks say. */
export function StatedFaults({ name, stated, onChange }: StatedFaultsProps) {
  return (
    <details className="stated-faults">
      <summary>Truth: {stated === null ? 'not stated' : listFaults(stated)}</summary>
      <Checkbox
        size="xs"
        label="I know what is wrong with this blow"
        aria-label={`I know what is wrong with ${name}`}
        checked={stated !== null}
        onChange={(event) => onChange(event.currentTarget.checked ? [] : null)}
      />
      {stated !== null && (
        <fieldset>
          <legend>Tick what is wrong; nothing ticked says that it is good.</legend>
          {FAULTS.map(({ id, name: fault }) => (
            <Checkbox
              key={id}
              size="xs"
              label={fault}
              checked={stated.includes(id)}
              onChange={(event) =>
                onChange(
                  event.currentTarget.checked ? [...stated, id] : stated.filter((other) => other !== id),
                )
              }
            />
          ))}
        </fieldset>
      )}
    </details>
  );
}
