/** A copy of a plain value in which every number has at most so many significant digits; what is not finite is an error in the caller. */
export function roundNumbers<T>(value: T, digits: number): T {
  if (typeof value === 'number') return Number(value.toPrecision(digits)) as T;
  if (Array.isArray(value)) return value.map((item) => roundNumbers(item, digits)) as T;
  if (typeof value === 'object' && value !== null) {
    return Object.fromEntries(
      Object.entries(value).map(([key, item]) => [key, roundNumbers(item, digits)]),
    ) as T;
  }
  return value;
}
