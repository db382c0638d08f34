import { create } from 'zustand';
import { callHost, readWorkspaceId } from '../../client.ts';
import { readBase64 } from '../../parts/index.ts';
import { readMirror, recallChoices } from '../../state/index.ts';
import type { Failure } from '../../types.ts';
import type { Answers } from '../intakeTypes.ts';
import { readPreferences } from '../shelf/useShelf.ts';
import type { Draft, KeptDrafts } from './drafts.ts';

/** Name under which drafts outlive the window. */
export const DRAFTS_KEPT_AS = 'intake/drafts';

type DraftChoices = KeptDrafts & {
  /** Whether what an earlier window kept was asked for. */
  recalled: boolean;
  /** Identity of the workspace that the drafts are for; null until it is known. */
  workspace: string | null;
  /** What went wrong with beginning a draft or attaching to it. */
  failure: Failure | null;
  /** A recording that is on its way to the program. */
  attaching: string | null;
  set(change: Partial<Omit<DraftChoices, 'set'>>): void;
};

export const useDrafts = create<DraftChoices>()((set) => ({
  changedAt: '',
  drafts: [],
  openId: null,
  habits: {},
  recalled: false,
  workspace: null,
  failure: null,
  attaching: null,
  set: (change) => set(change),
}));

/** Asks for the drafts of an earlier window, once; what this tab mirrored at the last key press is newer where it was reloaded. */
export async function recallDrafts(): Promise<void> {
  const { recalled, set } = useDrafts.getState();
  if (recalled) return;
  set({ recalled: true });
  const workspace = await readWorkspaceId();
  const kept = await recallChoices<KeptDrafts>(DRAFTS_KEPT_AS);
  set({ workspace });
  const mirrored = workspace === null ? null : readMirror<KeptDrafts>(DRAFTS_KEPT_AS, workspace);
  const newest = [kept, mirrored]
    .filter((state) => state !== null)
    .sort((a, b) => b.changedAt.localeCompare(a.changedAt))[0];
  if (!newest) return;
  // a draft begun while the answer was on its way is none of an earlier window
  const begun = useDrafts.getState().drafts;
  set({ ...newest, drafts: [...newest.drafts, ...begun], openId: begun[0]?.id ?? newest.openId });
}

/** Begins a visit, with recordings attached where there are some, and opens it. */
export async function beginDraft(files: readonly File[] = []): Promise<void> {
  await recallDrafts();
  const { units } = await readPreferences();
  const { habits, set } = useDrafts.getState();
  const answer = await callHost('intake.begin', { units, habits });
  if (!answer.ok) {
    set({ failure: { code: answer.code, message: answer.message, hint: answer.hint } });
    return;
  }
  const draft: Draft = {
    id: crypto.randomUUID(),
    begunAt: new Date().toISOString(),
    units,
    ...answer.value,
  };
  const { drafts } = useDrafts.getState();
  set({ drafts: [...drafts, draft], openId: draft.id, failure: null, changedAt: draft.begunAt });
  await attach(draft.id, files);
}

/** Hands recordings to the program, one after the other, and begins their answers. Those that are refused stand in the way of none. */
export async function attach(id: string, files: readonly File[]): Promise<void> {
  const { set } = useDrafts.getState();
  const refused: Failure[] = [];
  set({ failure: null });
  for (const file of files) {
    set({ attaching: file.name });
    const draft = useDrafts.getState().drafts.find((other) => other.id === id);
    if (!draft) break;
    const answer = await callHost('intake.attach', {
      draft: id,
      units: draft.units,
      habits: useDrafts.getState().habits,
      file: { name: file.name, base64: await readBase64(file) },
    });
    if (!answer.ok) {
      refused.push({ code: answer.code, message: answer.message, hint: answer.hint });
      set({ failure: tellTogether(refused) });
      continue;
    }
    const { answers } = answer.value;
    // one of the same name is the same recording, exported anew: its answers stay
    changeDraft(id, (all) =>
      all.recordings.some((recording) => recording.file === answers.file)
        ? all
        : { ...all, recordings: [...all.recordings, answers] },
    );
  }
  set({ attaching: null });
}

function tellTogether(refused: readonly Failure[]): Failure {
  const [first] = refused as [Failure, ...Failure[]];
  return {
    code: first.code,
    message: refused.map(({ message }) => message).join(' '),
    hint: [...new Set(refused.map(({ hint }) => hint))].join(' '),
  };
}

/** Changes the answers of a draft. */
export function changeDraft(id: string, change: (answers: Answers) => Answers): void {
  useDrafts.setState(({ drafts }) => ({
    changedAt: new Date().toISOString(),
    drafts: drafts.map((draft) => (draft.id === id ? { ...draft, answers: change(draft.answers) } : draft)),
  }));
}

/** Takes a draft away, once it was brought in or given up. */
export function endDraft(id: string): void {
  useDrafts.setState(({ drafts }) => {
    const left = drafts.filter((draft) => draft.id !== id);
    return { changedAt: new Date().toISOString(), drafts: left, openId: left.at(-1)?.id ?? null };
  });
}
