import { useId, useState } from 'react';
import { type NumberLimits, readNumber } from './readNumber.ts';
import { useReportWrong } from './wrongFields.ts';

type NumberFieldProps = {
  label: string;
  value: string;
  placeholder?: string;
  limits?: NumberLimits;
  onCommit: (value: number) => void;
};

type Typed = { over: string; text: string; wrong: string | null };

/**
 * A number typed and taken over by Enter or by leaving the field; Escape gives the old one back. What cannot be taken
 * stays as typed, marked, with words on what can.
 */
export function NumberField({ label, value, placeholder, limits, onCommit }: NumberFieldProps) {
  const [typed, setTyped] = useState<Typed | null>(null);
  const wordsId = useId();
  // what was typed over an earlier value is not typed over this one
  if (typed && typed.over !== value) setTyped(null);
  const { text, wrong } = typed ?? { text: value, wrong: null };
  useReportWrong(label, wrong !== null);

  function commit(): void {
    if (text.trim() === '' || text === value) {
      setTyped(null);
      return;
    }
    const read = readNumber(text, limits);
    if ('wrong' in read) {
      setTyped({ over: value, text, wrong: read.wrong });
      return;
    }
    setTyped(null);
    onCommit(read.number);
  }

  return (
    <span className="number-box">
      <input
        className="number-field"
        inputMode="decimal"
        aria-label={label}
        aria-invalid={wrong !== null}
        aria-describedby={wrong === null ? undefined : wordsId}
        data-typing={text !== value}
        placeholder={placeholder}
        value={text}
        onChange={(event) => setTyped({ over: value, text: event.currentTarget.value, wrong: null })}
        onFocus={(event) => event.currentTarget.select()}
        onBlur={commit}
        onKeyDown={(event) => {
          if (event.key === 'Enter') commit();
          if (event.key === 'Escape') setTyped(null);
        }}
      />
      {wrong !== null && (
        <span id={wordsId} role="alert" className="number-wrong">
          {wrong}
        </span>
      )}
    </span>
  );
}
