const keyOf = (name: string, workspace: string) => `stemroot.${name} ${workspace}`;

/*
 * What is typed lies in the store of this tab, which is nobody else's: a reload in the midst of a word loses no letter. What is to
 * outlive the tab goes to the program besides, once it rests for a moment.
 */

/** @param workspace - identity of the one that it is for: another may have the same name */
export function writeMirror(name: string, workspace: string, value: unknown): void {
  try {
    sessionStorage.setItem(keyOf(name, workspace), JSON.stringify(value));
  } catch {
    // a full store takes no more; the program still keeps what rests
  }
}

/** What this tab wrote last under a name for a workspace; null where it wrote nothing. */
export function readMirror<T>(name: string, workspace: string): T | null {
  const text = sessionStorage.getItem(keyOf(name, workspace));
  return text === null ? null : (JSON.parse(text) as T);
}
