/** A visit file with the recordings that it names, as they go to the program in one call. */
export type FileGroup = { visitFile: File; recordings: File[] };

const VISIT_FILE = /\.json$/i;

/**
 * Sorts files into visits by the names that each visit file gives. A visit file that cannot be read goes alone:
 * the program says why. Recordings that no visit names are left over.
 */
export async function groupFiles(files: readonly File[]): Promise<{ groups: FileGroup[]; leftOver: File[] }> {
  const recordings = new Map(files.filter((f) => !VISIT_FILE.test(f.name)).map((f) => [f.name, f]));
  const named = new Set<string>();
  const groups: FileGroup[] = [];
  for (const visitFile of files.filter((f) => VISIT_FILE.test(f.name))) {
    const names = namesOfRecordings(await visitFile.text());
    for (const name of names) named.add(name);
    groups.push({ visitFile, recordings: names.flatMap((name) => recordings.get(name) ?? []) });
  }
  return { groups, leftOver: [...recordings.values()].filter((f) => !named.has(f.name)) };
}

function namesOfRecordings(text: string): string[] {
  try {
    const visit = JSON.parse(text) as { recordings?: { file?: unknown }[] };
    return (visit.recordings ?? []).flatMap(({ file }) => (typeof file === 'string' ? [file] : []));
  } catch {
    // The program reads the file itself and names the place where it breaks off.
    return [];
  }
}
