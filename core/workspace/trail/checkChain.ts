import { NO_ENTRY, sealOf, type TrailRow } from './composeEntry.ts';

export type ChainReport = {
  entries: number;
  /** The last entry; its hash stands for all before it. */
  head: { seq: number; at: string; sha256: string } | null;
  /** Entries that are not as they were written, or not where they were, in words. */
  faults: string[];
  /** What is no fault and worth knowing: a clock that was set back. */
  remarks: string[];
  /** Whether the hash that was asked for is that of an entry; null where none was asked for. */
  known: boolean | null;
};

export type ChainCheck = {
  /** Looks at the next entry, by number. */
  take(entry: TrailRow): void;
  tell(): ChainReport;
};

/**
 * Proves the chain of the trail, entry by entry: numbers without a gap, each entry's hash over its own columns, and the hash of the
 * one before.
 * @param options.known - hash of an entry, noted down earlier or elsewhere: shows that nothing was cut off the end or written anew
 */
export function checkChain(options: { known?: string | undefined } = {}): ChainCheck {
  const faults: string[] = [];
  const remarks: string[] = [];
  let previous: { seq: number; sha256: string; at: string | null } = { ...NO_ENTRY, at: null };
  let known = false;
  return {
    take(entry) {
      const name = `Entry ${entry.seq} (${entry.action}, ${entry.subject}, ${entry.at})`;
      if (entry.seq !== previous.seq + 1) {
        faults.push(`Entries ${previous.seq + 1} to ${entry.seq - 1} are missing.`);
      } else if (entry.previous_sha256 !== previous.sha256) {
        faults.push(`${name} does not follow the one before.`);
      }
      if (sealOf(entry) !== entry.sha256) faults.push(`${name} was changed.`);
      if (previous.at !== null && entry.at < previous.at) {
        remarks.push(
          `Between entry ${previous.seq} and ${entry.seq} the clock was set back, from ${previous.at} to ${entry.at}.`,
        );
      }
      known ||= entry.sha256 === options.known;
      previous = entry;
    },
    tell: () => ({
      entries: previous.seq,
      head: previous.at === null ? null : { seq: previous.seq, at: previous.at, sha256: previous.sha256 },
      faults,
      remarks,
      known: options.known === undefined ? null : known,
    }),
  };
}
