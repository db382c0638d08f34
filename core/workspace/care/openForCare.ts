import { existsSync } from 'node:fs';
import { StoreError } from '../../errors.ts';
import { checkStart, openForReading } from '../opening/index.ts';
import { toStoreError } from '../storeErrors.ts';
import { type CheckReport, checkWorkspace } from './checkWorkspace.ts';
import { proveWorkspace } from './proveWorkspace.ts';
import type { Proof } from './provingParts.ts';

export type Care = {
  check(): CheckReport;
  /** @param known - hash of an entry of the trail, noted down earlier */
  prove(known?: string): Proof;
  close(): void;
};

/**
 * Opens a workspace to look into it only, whatever its state: also one that is in use, damaged or changed by another program,
 * which {@link openStore} refuses.
 */
export function openForCare(path: string): Care {
  if (!existsSync(path)) {
    throw new StoreError('store.missing', `There is no workspace at ${path}.`, 'Check the path.');
  }
  checkStart(path);
  const tell = <T>(work: () => T): T => {
    try {
      return work();
    } catch (error) {
      throw toStoreError(error, path);
    }
  };
  const { database, copy } = tell(() => openForReading(path, { checked: false }));
  return {
    check: () => tell(() => checkWorkspace(database)),
    prove: (known) => tell(() => proveWorkspace(database, { known })),
    close() {
      database.close();
      copy?.remove();
    },
  };
}
