import { callHost } from '../../client.ts';
import { readBase64 } from '../../parts/index.ts';
import { useWindow } from '../../state/index.ts';
import type { Failure, ImportOutcome } from '../../types.ts';
import { useBringing } from './bringStore.ts';
import type { FoundFile } from './foundFile.ts';
import { type FileGroup, sortFiles } from './sortFiles.ts';

/** Brings in whatever was chosen or dropped, one visit after the other, and lists what became of each. */
export async function bringIn(found: readonly FoundFile[]): Promise<void> {
  const bringing = useBringing.getState();
  if (found.length === 0 || bringing.progress) return;
  const { visits, lessons, strays, refused } = await sortFiles(found);
  const outcomes: ImportOutcome[] = refused.map(({ file, words }) =>
    fail(file.name, {
      code: 'window.not-taken',
      message: words,
      hint: 'Visit files end in .visit.json, recordings in .wav, .csv or .uff.',
    }),
  );
  const startedMs = performance.now();
  const of = visits.length + lessons.length;
  bringing.set({ stopped: false, outcomes: [], strays });
  let done = 0;
  const steps = [
    ...lessons.map((file) => ({ name: file.name, bring: () => bringLesson(file) })),
    ...visits.map((group) => ({ name: group.visitFile.name, bring: () => bringVisit(group) })),
  ];
  for (const { name, bring } of steps) {
    if (useBringing.getState().stopped) break;
    bringing.set({ progress: { done, of, now: name, startedMs } });
    outcomes.push(...(await bring()));
    done += 1;
  }
  bringing.set({ progress: null, outcomes });
  useWindow.getState().noteStored();
}

async function bringVisit({ visitFile, recordings }: FileGroup): Promise<ImportOutcome[]> {
  const sent = [visitFile, ...recordings];
  try {
    const files = await Promise.all(sent.map(async (f) => ({ name: f.name, base64: await readBase64(f) })));
    const answer = await callHost('visits.import', { files });
    return answer.ok ? answer.value.outcomes : [fail(visitFile.name, answer)];
  } catch (error) {
    return [fail(visitFile.name, unreadable(error))];
  }
}

async function bringLesson(file: File): Promise<ImportOutcome[]> {
  const answer = await callHost('classroom.importLesson', { fileName: file.name, text: await file.text() });
  if (!answer.ok) return [fail(file.name, answer)];
  return [{ file: file.name, visitId: null, poleId: null, status: 'imported', error: null, caution: null }];
}

function fail(file: string, { code, message, hint }: Failure): ImportOutcome {
  return {
    file,
    visitId: null,
    poleId: null,
    status: 'failed',
    error: { code, message, hint },
    caution: null,
  };
}

/** A file that went away, or that this user may not read, between its choice and its reading. */
function unreadable(error: unknown): Failure {
  return {
    code: 'window.unreadable',
    message: `The file cannot be read: ${(error as Error).message}`,
    hint: 'Check that it is still there and may be read, then choose it again.',
  };
}
