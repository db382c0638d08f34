import { useRef } from 'react';

/**
 * The object of before while a new one says the same, so that what is drawn from it is not drawn again.
 * @param value - small, and plain as JSON is
 */
export function useSame<T>(value: T): T {
  const sameRef = useRef(value);
  if (sameRef.current !== value && JSON.stringify(sameRef.current) !== JSON.stringify(value)) {
    sameRef.current = value;
  }
  return sameRef.current;
}

/** The same for each of a list: those that say what they said before stay the objects that they were. */
export function useSameEach<T>(values: readonly T[]): readonly T[] {
  const sameRef = useRef(values);
  const last = sameRef.current;
  if (last !== values) {
    const texts = last.map((value) => JSON.stringify(value));
    sameRef.current = values.map((value, i) => (texts[i] === JSON.stringify(value) ? last[i]! : value));
  }
  return sameRef.current;
}
