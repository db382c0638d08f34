import type { KeptDrafts } from './drafts.ts';

const keyOf = (workspace: string) => `stemroot.drafts ${workspace}`;

/*
 * What was typed goes to the program once it rests for a moment. Until then it lies here, in the store of this tab: a reload in
 * the midst of a word loses no letter.
 */

/** @param workspace - identity of the one that the drafts are for: another may have the same name */
export function writeMirror(workspace: string, state: KeptDrafts): void {
  try {
    sessionStorage.setItem(keyOf(workspace), JSON.stringify(state));
  } catch {
    // a full store takes no more; the program still keeps what rests
  }
}

/** What this tab wrote last for a workspace; null where it wrote nothing. */
export function readMirror(workspace: string): KeptDrafts | null {
  const text = sessionStorage.getItem(keyOf(workspace));
  return text === null ? null : (JSON.parse(text) as KeptDrafts);
}
