import { Checkbox } from '@mantine/core';
import { FAULTS, QUIZ_FAULTS } from '../../../core/workspace/contract.ts';
import type { FaultId } from '../classroomTypes.ts';

type AnswerSheetProps = {
  answer: readonly FaultId[] | null;
  onAnswer(answer: readonly FaultId[] | null): void;
};

/** Every fault that a quiz asks for by its name alone, to be ticked, and that nothing is wrong; where to look is told once it is graded. */
export function AnswerSheet({ answer, onAnswer }: AnswerSheetProps) {
  const named = answer ?? [];
  const toggle = (fault: FaultId, on: boolean) => {
    const next = on ? [...named, fault] : named.filter((other) => other !== fault);
    // to take the last fault back leaves the question open: nothing wrong is said by its own box
    onAnswer(next.length > 0 ? next : null);
  };
  return (
    <fieldset className="answer-sheet">
      <legend>What is wrong with this blow?</legend>
      {FAULTS.filter(({ id }) => QUIZ_FAULTS.includes(id)).map(({ id, name }) => (
        <Checkbox
          key={id}
          size="xs"
          label={name}
          checked={named.includes(id)}
          onChange={(event) => toggle(id, event.currentTarget.checked)}
        />
      ))}
      <Checkbox
        size="xs"
        label="Nothing is wrong"
        checked={answer !== null && answer.length === 0}
        onChange={(event) => onAnswer(event.currentTarget.checked ? [] : null)}
      />
    </fieldset>
  );
}
