import { createHash } from 'node:crypto';
import canonicalize from 'canonicalize';
import type { BreakTestRow } from './breakTestRow.ts';

/** SHA-256 of break tests as canonical JSON (RFC 8785), 64 hexadecimal digits: the same tests in the same order, the same hash, in any program. */
export function hashRows(rows: readonly BreakTestRow[]): string {
  return createHash('sha256').update(canonicalize(rows)!).digest('hex');
}
