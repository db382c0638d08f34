import { type FoundFile, isOfTheSystem } from './foundFile.ts';

/** A visit file with the recordings that it names, as they go to the program in one call. */
export type FileGroup = { visitFile: File; recordings: File[] };

export type SortedFiles = {
  visits: FileGroup[];
  lessons: File[];
  /** Recordings that no visit file names. */
  strays: File[];
  /** What is none of these, with words on why. */
  refused: { file: File; words: string }[];
};

const RECORDING = /\.(wav|wave|csv|txt|uff|unv|uf|58)$/i;
const JSON_FILE = /\.json$/i;

/**
 * Sorts files by what they are. A visit takes the recordings that it names from its own folder; from another only where no
 * other file has the name. A JSON file that cannot be read goes as a visit: the program says where it breaks off.
 */
export async function sortFiles(found: readonly FoundFile[]): Promise<SortedFiles> {
  const files = found.filter(({ file }) => !isOfTheSystem(file.name));
  const sorted: SortedFiles = { visits: [], lessons: [], strays: [], refused: [] };
  const recordings = files.filter(({ file }) => RECORDING.test(file.name));
  const named = new Set<File>();
  for (const { file, folder } of files) {
    if (JSON_FILE.test(file.name)) {
      const { kind, names } = await readJson(file);
      if (kind === 'stemroot-lesson') sorted.lessons.push(file);
      else if (kind.startsWith('stemroot-') && kind !== 'stemroot-visit') {
        sorted.refused.push({
          file,
          words: `This is a ${kind.slice('stemroot-'.length)}: it has a place of its own.`,
        });
      } else {
        const own = names.flatMap((name) => findRecording(recordings, name, folder) ?? []);
        for (const recording of own) named.add(recording);
        sorted.visits.push({ visitFile: file, recordings: own });
      }
    } else if (!RECORDING.test(file.name)) {
      sorted.refused.push({ file, words: 'No visit file, recording or lesson ends like this.' });
    }
  }
  sorted.strays = recordings.flatMap(({ file }) => (named.has(file) ? [] : [file]));
  return sorted;
}

function findRecording(recordings: readonly FoundFile[], name: string, folder: string): File | null {
  const alike = recordings.filter(({ file }) => file.name === name);
  const beside = alike.find((recording) => recording.folder === folder);
  return (beside ?? (alike.length === 1 ? alike[0] : undefined))?.file ?? null;
}

async function readJson(file: File): Promise<{ kind: string; names: string[] }> {
  try {
    const { format, recordings } = JSON.parse(await file.text()) as {
      format?: unknown;
      recordings?: { file?: unknown }[];
    };
    const names = (recordings ?? []).flatMap(({ file: name }) => (typeof name === 'string' ? [name] : []));
    return { kind: String(format ?? ''), names };
  } catch {
    // the program reads the file itself and names the place where it breaks off
    return { kind: '', names: [] };
  }
}
