/** A file as it was chosen or dropped, with the folder it lay in; the folder is empty where it was chosen alone. */
export type FoundFile = { file: File; folder: string };

/** Files that a system puts into folders by itself. */
const OF_THE_SYSTEM = /^(\.|~\$|Thumbs\.db$|desktop\.ini$)/i;

export function isOfTheSystem(name: string): boolean {
  return OF_THE_SYSTEM.test(name);
}

/** Files chosen in a dialog; those of a chosen folder know their way from it. */
export function fromDialog(files: Iterable<File>): FoundFile[] {
  return [...files].map((file) => ({
    file,
    folder: file.webkitRelativePath.split('/').slice(0, -1).join('/'),
  }));
}

/** Everything that was dropped, folders with all that lies in and below them. */
export async function fromDrop(data: DataTransfer): Promise<FoundFile[]> {
  // entries must be taken before the first wait: the drop forgets them
  const entries = [...data.items].flatMap((item) => item.webkitGetAsEntry() ?? []);
  if (entries.length === 0) return fromDialog(data.files);
  const found = await Promise.all(entries.map((entry) => walk(entry, '')));
  return found.flat();
}

async function walk(entry: FileSystemEntry, folder: string): Promise<FoundFile[]> {
  if (isFile(entry)) {
    const file = await new Promise<File>((resolve, reject) => entry.file(resolve, reject));
    return [{ file, folder }];
  }
  const reader = (entry as FileSystemDirectoryEntry).createReader();
  const path = folder === '' ? entry.name : `${folder}/${entry.name}`;
  const found: FoundFile[] = [];
  // a reader gives some entries at a time, and none at its end
  for (let part = await readSome(reader); part.length > 0; part = await readSome(reader)) {
    for (const child of part) found.push(...(await walk(child, path)));
  }
  return found;
}

function isFile(entry: FileSystemEntry): entry is FileSystemFileEntry {
  return entry.isFile;
}

function readSome(reader: FileSystemDirectoryReader): Promise<FileSystemEntry[]> {
  return new Promise((resolve, reject) => reader.readEntries(resolve, reject));
}
