import { InputError } from '../../errors.ts';
import {
  type Answers,
  beginAnswers,
  beginRecording,
  blankRows,
  composeVisit,
  echoAnswers,
  learnHabits,
  type UnitSystem,
} from '../../intake/index.ts';
import type { VisitFile } from '../../recording/index.ts';
import type { intakeCalls } from '../contract/intakeCalls.ts';
import type { HandlersOf } from '../handlers.ts';
import { importVisit } from '../importVisit.ts';
import { type Attached, describeAttached } from '../intake/describeAttached.ts';
import {
  attachRecording,
  detachRecordings,
  getAttachedBytes,
  listAttached,
} from '../intake/draftRecordings.repository.ts';
import { RecentCache } from '../recentCache.ts';
import type { Store } from '../store.ts';

/** What is known of recordings attached lately, so that a check while typing reads none again. */
const KEPT_DESCRIPTIONS = 200;

type Form = { draft: string; units: UnitSystem; answers: Answers };

export function createIntakeHandlers(store: Store): HandlersOf<typeof intakeCalls> {
  const { db } = store;
  const described = new RecentCache<string, Attached>(KEPT_DESCRIPTIONS);

  const describeAll = async (draft: string): Promise<Attached[]> => {
    const found: Attached[] = [];
    for (const { file_name: file, sha256 } of await listAttached(db, draft)) {
      const attached = await described.get(`${sha256} ${file}`, async () => {
        const bytes = await getAttachedBytes(db, draft, file);
        return describeAttached(bytes ?? new Uint8Array(), file);
      });
      found.push(attached);
    }
    return found;
  };
  const compose = async ({ draft, units, answers }: Form) =>
    composeVisit(answers, await describeAll(draft), today(), units);
  const write = async (form: Form): Promise<VisitFile> => {
    const { visit, problems } = await compose(form);
    if (visit) return visit;
    const { field, words } = problems.find(({ level }) => level === 'wrong')!;
    throw new InputError(
      'intake.unready',
      `The visit is not ready: ${field}. ${words}`,
      'Correct the answer, then try again.',
    );
  };

  return {
    'intake.begin': ({ units, habits }) => ({
      answers: beginAnswers(units, habits),
      rows: blankRows(units),
    }),
    'intake.attach': async ({ draft, units, habits, file }) => {
      const bytes = Buffer.from(file.base64, 'base64');
      const attached = describeAttached(bytes, file.name);
      await attachRecording(db, draft, file.name, bytes);
      return { attached, answers: beginRecording(attached, units, habits) };
    },
    'intake.attached': async ({ draft }) => ({ recordings: await describeAll(draft) }),
    'intake.detach': async ({ draft, file }) => {
      await detachRecordings(db, draft, file);
      return {};
    },
    'intake.check': async (form) => {
      const { visit, problems } = await compose(form);
      const echoes = echoAnswers(form.answers, form.units);
      return { problems: [...problems], echoes, ready: visit !== null };
    },
    'intake.write': async (form) => {
      const visit = await write(form);
      return { fileName: nameVisitFile(visit), text: formatVisit(visit) };
    },
    'intake.finish': async (form) => {
      const { draft, answers } = form;
      const visit = await write(form);
      const recordings = new Map<string, Uint8Array>();
      for (const { file } of visit.recordings) {
        const bytes = await getAttachedBytes(db, draft, file);
        if (bytes) recordings.set(file, bytes);
      }
      const outcome = await importVisit(store, {
        fileName: nameVisitFile(visit),
        readVisitFile: () => Buffer.from(formatVisit(visit)),
        readRecordingFile: (name) => recordings.get(name),
      });
      if (outcome.status !== 'failed') await detachRecordings(db, draft);
      return { outcome, habits: learnHabits(answers) };
    },
    'intake.giveUp': async ({ draft }) => {
      await detachRecordings(db, draft);
      return {};
    },
  };
}

function formatVisit(visit: VisitFile): string {
  return `${JSON.stringify(visit, null, 2)}\n`;
}

/** A name that every file system takes. */
function nameVisitFile({ pole, measured }: VisitFile): string {
  return `${pole.id.replaceAll(/[^A-Za-z0-9_-]+/g, '-')}-${measured.date}.visit.json`;
}

/** Today where this program runs: year-month-day. */
function today(): string {
  const now = new Date();
  const two = (part: number) => String(part).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
