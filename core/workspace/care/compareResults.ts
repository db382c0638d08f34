/** A place at which two results differ, and by how much. */
export type ResultDifference = {
  /** Path of the field, as `stem.modulusPa.value`. */
  path: string;
  stored: unknown;
  now: unknown;
  /** |now - stored| / |stored| of two numbers; null where a number is not compared with a number, or with 0. */
  relative: number | null;
};

/** Every place at which two results differ, the greatest relative difference of numbers last. */
export function compareResults(stored: unknown, now: unknown): ResultDifference[] {
  return [...findDifferences(stored, now, '')].sort((a, b) => (a.relative ?? -1) - (b.relative ?? -1));
}

function* findDifferences(stored: unknown, now: unknown, path: string): Generator<ResultDifference> {
  if (isHolder(stored) && isHolder(now) && Array.isArray(stored) === Array.isArray(now)) {
    const keys = new Set([...Object.keys(stored), ...Object.keys(now)]);
    for (const key of keys)
      yield* findDifferences(stored[key], now[key], path === '' ? key : `${path}.${key}`);
  } else if (!Object.is(stored, now)) {
    yield { path, stored, now, relative: relativeDifference(stored, now) };
  }
}

function isHolder(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}

function relativeDifference(stored: unknown, now: unknown): number | null {
  if (typeof stored !== 'number' || typeof now !== 'number' || stored === 0) return null;
  return Math.abs(now - stored) / Math.abs(stored);
}
