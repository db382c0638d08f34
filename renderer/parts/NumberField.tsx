import { useEffect, useId, useState } from 'react';
import { type NumberLimits, readNumber } from './readNumber.ts';
import { useReportWrong } from './wrongFields.ts';

type NumberFieldProps = {
  label: string;
  value: string;
  placeholder?: string;
  limits?: NumberLimits;
  onCommit: (value: number) => void;
};

/**
 * A number typed and taken over by Enter or by leaving the field; Escape gives the old one back. What cannot be taken
 * stays as typed, marked, with words on what can.
 */
export function NumberField({ label, value, placeholder, limits, onCommit }: NumberFieldProps) {
  const [text, setText] = useState(value);
  const [wrong, setWrong] = useState<string | null>(null);
  const wordsId = useId();
  useReportWrong(label, wrong !== null);

  function show(next: string): void {
    setText(next);
    setWrong(null);
  }
  useEffect(() => {
    setText(value);
    setWrong(null);
  }, [value]);

  function commit(): void {
    if (text.trim() === '' || text === value) {
      show(value);
      return;
    }
    const read = readNumber(text, limits);
    if ('wrong' in read) {
      setWrong(read.wrong);
      return;
    }
    show(value);
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
        onChange={(event) => show(event.currentTarget.value)}
        onFocus={(event) => event.currentTarget.select()}
        onBlur={commit}
        onKeyDown={(event) => {
          if (event.key === 'Enter') commit();
          if (event.key === 'Escape') show(value);
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
