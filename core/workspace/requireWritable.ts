import { StoreError } from '../errors.ts';
import type { Notice } from './opening/index.ts';

/** Refuses at once what would have to be refused after long work. @throws StoreError with the reason why nothing can be changed */
export function requireWritable({ readOnly }: { readonly readOnly: Notice | null }): void {
  if (readOnly) throw new StoreError('store.readOnly', readOnly.message, readOnly.hint);
}
