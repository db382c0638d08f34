import { InputError } from '../errors.ts';
import { FAULTS, type FaultId, QUIZ_FAULTS } from './faults.ts';
import type { Lesson, LessonBlow } from './lesson.ts';

/** A blow of the workspace with what the checks say of it. */
export type JudgedBlow = Pick<
  LessonBlow,
  'recordingSha256' | 'recordingFile' | 'poleId' | 'visitDate' | 'startS'
> & {
  readonly exciter: 'hammer' | 'hand' | 'unknown';
  readonly faults: readonly FaultId[];
};

/** What a lesson is to show, and the blows that do, the best one first. */
type Kind = { readonly title: string; readonly blows: readonly JudgedBlow[] };

/**
 * Proposes a lesson: a good blow by hammer and one by hand, then for each fault the blow that shows it most alone, by the
 * exciter of a good blow where there is a choice. The quiz asks for others of the same kinds, where there are any: what was just
 * shown needs no judging. Its maker states no truth: what the checks say is shown as theirs.
 * @param blows - in the order of the register
 * @throws InputError `lesson.empty` where no blow is given
 */
export function proposeLesson(blows: readonly JudgedBlow[]): Lesson {
  if (blows.length === 0) {
    throw new InputError(
      'lesson.empty',
      'There is no blow in this workspace to make a lesson of.',
      'Bring in visits with their recordings first.',
    );
  }
  const kinds = listKinds(blows);
  const shown = joinSame(kinds.map(({ title, blows: [best] }) => ({ blow: best!, title })));
  const taken = new Set(shown.map(({ blow }) => blow));
  const others = new Map(
    kinds.map(({ title, blows }) => [title, blows.find((blow) => !taken.has(blow) && canBeAsked(blow))]),
  );
  const asked = joinSame([...others].flatMap(([title, blow]) => (blow ? [{ blow, title }] : [])));
  return {
    format: 'stemroot-lesson',
    version: 1,
    title: 'One blow of each kind',
    maker: '',
    notes: '',
    blows: [
      ...shown.map(({ blow, titles }) => {
        const isOnlyOne = titles.some((title) => !others.get(title));
        return lessonBlow(blow, titles, canBeAsked(blow) && isOnlyOne ? 'show and ask' : 'show');
      }),
      ...asked.map(({ blow, titles }) => lessonBlow(blow, titles, 'ask')),
    ],
  };
}

function listKinds(blows: readonly JudgedBlow[]): Kind[] {
  const good = (['hammer', 'hand', 'unknown'] as const).map((exciter) => ({
    title: `A good blow by ${exciter === 'unknown' ? 'an unknown exciter' : exciter}`,
    blows: blows.filter((blow) => blow.faults.length === 0 && blow.exciter === exciter),
  }));
  const compared = new Set(good.flatMap(({ blows: [best] }) => best?.exciter ?? []));
  const faulty = FAULTS.map(({ id, name }) => ({
    title: name,
    blows: blows
      .filter((blow) => blow.faults.includes(id))
      .sort(
        (a, b) =>
          a.faults.length - b.faults.length ||
          Number(compared.has(b.exciter)) - Number(compared.has(a.exciter)),
      ),
  }));
  return [...good, ...faulty].filter((kind) => kind.blows.length > 0);
}

/** A blow that stands for several kinds comes once, under all of their names. */
function joinSame(chosen: readonly { readonly blow: JudgedBlow; readonly title: string }[]) {
  return [...Map.groupBy(chosen, ({ blow }) => blow)].map(([blow, entries]) => ({
    blow,
    titles: entries.map(({ title }) => title),
  }));
}

function lessonBlow(blow: JudgedBlow, titles: readonly string[], use: LessonBlow['use']): LessonBlow {
  const { recordingSha256, recordingFile, poleId, visitDate, startS } = blow;
  return {
    recordingSha256,
    recordingFile,
    poleId,
    visitDate,
    startS,
    title: titles.join('; '),
    note: '',
    use,
    statedFaults: null,
  };
}

/** A blow whose faults one blow cannot show would be answered wrongly by whoever sees nothing wrong. */
function canBeAsked({ faults }: JudgedBlow): boolean {
  return faults.length === 0 || faults.some((fault) => QUIZ_FAULTS.includes(fault));
}
