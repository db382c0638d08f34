import canonicalize from 'canonicalize';
import { hashSha256 } from '../../hashSha256.ts';

/** A row as SQLite gives it. */
export type Row = Readonly<Record<string, unknown>>;

/**
 * SHA-256 of a row: of its canonical JSON (RFC 8785, JSON Canonicalization Scheme) with bytes replaced by their own hash.
 * Columns without a value are left out, so that a column added later, empty, leaves the hashes of older rows as they are.
 */
export function hashRow(row: Row): string {
  const columns = Object.entries(row).flatMap(([name, value]) =>
    value === null || value === undefined ? [] : [[name, describeValue(value)] as const],
  );
  return hashSha256(canonicalize(Object.fromEntries(columns))!);
}

function describeValue(value: unknown): unknown {
  if (value instanceof Uint8Array) return { bytes: hashSha256(value) };
  // JSON has no such numbers; a REAL column may hold them
  if (typeof value === 'number' && !Number.isFinite(value)) return { number: String(value) };
  return value;
}
