import type { Kysely } from 'kysely';
import type { Notice } from './opening/index.ts';
import type { Tables } from './tables.ts';

export type OpenOptions = {
  /** Make the file where there is none. @default false */
  create?: boolean;
  /** Another connection of this process holds the lock, and has checked the file. @default false */
  sharedLock?: boolean;
  /** Open for reading only, and take no lock. @default false */
  readOnly?: boolean;
  /**
   * Open it as what a move is brought into: where it is made, without an entry in its trail; where a move was broken off, to be
   * completed. @default false
   */
  moving?: boolean;
};

/** What every workspace offers, in a file or in a database of a team. */
export type StoreCommon = {
  /** The file, or the name of the team store; never a password. */
  readonly path: string;
  readonly db: Kysely<Tables>;
  /** Why the workspace can be read only; null where it can be changed. */
  readonly readOnly: Notice | null;
  /** What a person should know about how the workspace was opened. */
  readonly notices: readonly Notice[];
  /** How another thread of this process opens the same workspace, with the same rights. */
  readonly forThreads: { readonly path: string; readonly options: OpenOptions };
  close(): Promise<void>;
};
