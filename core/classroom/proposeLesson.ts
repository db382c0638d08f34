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

type Titled = { readonly blow: JudgedBlow; readonly title: string };

/**
 * Proposes a lesson: a good blow by hammer and one by hand, then for each fault the blow that shows it most alone, by the
 * exciter of a good blow where there is a choice. Its maker states no truth: what the checks say is shown as theirs.
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
  const good = (['hammer', 'hand', 'unknown'] as const).flatMap((exciter) => {
    const found = blows.find((blow) => blow.faults.length === 0 && blow.exciter === exciter);
    return found ? [found] : [];
  });
  const compared = new Set(good.map(({ exciter }) => exciter));
  const faulty = FAULTS.flatMap(({ id, name }) => {
    const showing = blows.filter((blow) => blow.faults.includes(id));
    const best = showing.sort(
      (a, b) =>
        a.faults.length - b.faults.length ||
        Number(compared.has(b.exciter)) - Number(compared.has(a.exciter)),
    )[0];
    return best ? [{ blow: best, title: name }] : [];
  });
  const chosen = [...good.map((blow) => ({ blow, title: `A good blow by ${nameExciter(blow)}` })), ...faulty];
  return {
    format: 'stemroot-lesson',
    version: 1,
    title: 'One blow of each kind',
    maker: '',
    notes: '',
    blows: joinSame(chosen).map(({ blow, title }) => ({
      recordingSha256: blow.recordingSha256,
      recordingFile: blow.recordingFile,
      poleId: blow.poleId,
      visitDate: blow.visitDate,
      startS: blow.startS,
      title,
      note: '',
      use: canBeAsked(blow) ? 'show and ask' : 'show',
      statedFaults: null,
    })),
  };
}

/** A blow that stands for several faults comes once, under all of their names. */
function joinSame(chosen: readonly Titled[]): Titled[] {
  return [...Map.groupBy(chosen, ({ blow }) => blow)].map(([blow, entries]) => ({
    blow,
    title: entries.map(({ title }) => title).join('; '),
  }));
}

/** A blow whose faults one blow cannot show would be answered wrongly by whoever sees nothing wrong. */
function canBeAsked({ faults }: JudgedBlow): boolean {
  return faults.length === 0 || faults.some((fault) => QUIZ_FAULTS.includes(fault));
}

function nameExciter({ exciter }: JudgedBlow): string {
  return exciter === 'unknown' ? 'an unknown exciter' : exciter;
}
