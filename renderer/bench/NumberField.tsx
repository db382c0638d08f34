import { useEffect, useState } from 'react';

type NumberFieldProps = {
  label: string;
  value: string;
  placeholder?: string;
  onCommit: (value: number) => void;
};

/** A number typed and taken over by Enter or by leaving the field; Escape gives the old one back. */
export function NumberField({ label, value, placeholder, onCommit }: NumberFieldProps) {
  const [text, setText] = useState(value);
  useEffect(() => setText(value), [value]);

  function commit(): void {
    const number = Number(text.replace(',', '.'));
    if (text.trim() !== '' && text !== value && Number.isFinite(number)) onCommit(number);
    else setText(value);
  }

  return (
    <input
      className="number-field"
      inputMode="decimal"
      aria-label={label}
      data-typing={text !== value}
      placeholder={placeholder}
      value={text}
      onChange={(event) => setText(event.currentTarget.value)}
      onFocus={(event) => event.currentTarget.select()}
      onBlur={commit}
      onKeyDown={(event) => {
        if (event.key === 'Enter') commit();
        if (event.key === 'Escape') setText(value);
      }}
    />
  );
}
