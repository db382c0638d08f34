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
