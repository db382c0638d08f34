import { useId, useState } from 'react';
import { UNITS } from '../../../core/workspace/contract.ts';
import type { Entry, Problem, UnitId } from '../intakeTypes.ts';
import { entryAt } from './changeAnswers.ts';
import { useForm } from './FormContext.ts';
import { ORIGIN_WORDS } from './originWords.ts';
import { otherUnit } from './otherUnit.ts';

type FormFieldProps = {
  path: string;
  label: string;
  /** A word on what is meant, below the field. */
  help?: string;
  /** Given: one of these is chosen; first the value, then its words. */
  choices?: readonly (readonly [value: string, words: string])[];
  type?: 'text' | 'date';
  /** The symbol of a unit that cannot be changed. */
  symbol?: string;
  needed?: boolean;
};

/** One answer: typed or chosen, with its unit, where a default came from, and what is wrong or odd about it. */
export function FormField(props: FormFieldProps) {
  const { path, label, help, choices, type = 'text', symbol, needed = false } = props;
  const { answers, checked, tried, setEntry } = useForm();
  const [left, setLeft] = useState(false);
  const id = useId();
  const entry = entryAt(answers, path);
  const problems = checked?.problems.filter((problem) => problem.field === path) ?? [];
  const shown = problems.filter(({ level }) => level === 'odd' || left || tried || entry.text !== '');
  const isWrong = shown.some(({ level }) => level === 'wrong');
  const echo = checked?.echoes.find((other) => other.field === path)?.words;
  const wordsId = `${id}-words`;
  const set = (change: Partial<Entry>) => setEntry(path, { ...entry, from: 'typed', ...change });

  return (
    <div className="form-field" data-path={path}>
      <label htmlFor={id}>
        {label}
        {needed && <span className="form-needed"> (needed)</span>}
      </label>
      <span className="form-input">
        {choices ? (
          <select
            id={id}
            value={entry.text}
            aria-invalid={isWrong}
            aria-describedby={wordsId}
            onBlur={() => setLeft(true)}
            onChange={(event) => set({ text: event.currentTarget.value })}
          >
            {choices.map(([value, words]) => (
              <option key={value} value={value}>
                {words}
              </option>
            ))}
          </select>
        ) : (
          <input
            id={id}
            type={type}
            value={entry.text}
            aria-invalid={isWrong}
            aria-describedby={wordsId}
            autoComplete="off"
            onBlur={() => setLeft(true)}
            onChange={(event) => set({ text: event.currentTarget.value })}
          />
        )}
        {entry.unit !== null && (
          <UnitButton unit={entry.unit} label={label} onChange={(unit) => set({ unit })} />
        )}
        {symbol && <span className="form-symbol">{symbol}</span>}
      </span>
      <span id={wordsId} className="form-words">
        {entry.from !== 'typed' && entry.text !== '' && (
          <span className="form-origin">{ORIGIN_WORDS[entry.from]}</span>
        )}
        {echo && <span className="quiet">= {echo}</span>}
        {help && shown.length === 0 && <span className="quiet">{help}</span>}
        {shown.map((problem) => (
          <ProblemWords key={problem.words} problem={problem} />
        ))}
      </span>
    </div>
  );
}

/** The unit that an answer was given in. Pressing it reads the same digits in the other one. */
function UnitButton(props: { unit: UnitId; label: string; onChange(unit: UnitId): void }) {
  const { unit, label, onChange } = props;
  const other = otherUnit(unit);
  return (
    <button
      type="button"
      className="form-unit"
      title={`Read as ${UNITS[other].symbol} instead`}
      aria-label={`${label} is in ${UNITS[unit].symbol}; read it as ${UNITS[other].symbol} instead`}
      onClick={() => onChange(other)}
    >
      {UNITS[unit].symbol}
    </button>
  );
}

function ProblemWords({ problem: { level, words } }: { problem: Problem }) {
  return (
    <span className={`form-problem is-${level}`}>
      <strong>{level === 'wrong' ? 'Wrong:' : 'Look again:'}</strong> {words}
    </span>
  );
}
