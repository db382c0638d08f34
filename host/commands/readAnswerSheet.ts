import { type FaultId, QUIZ_FAULTS } from '../../core/classroom/index.ts';
import { InputError } from '../../core/errors.ts';

/** What stands for "nothing is wrong". */
const NOTHING = 'none';
const LINE = /^(\d+)\s*:\s*(.*)$/;

/**
 * Reads answers to questions on paper: a line a blow, its number, a colon, and the faults that were ticked with commas between, or
 * `none`. Empty lines, and what follows a `#`, are passed over.
 * @returns by blow, in their order
 * @throws InputError `answers.line` naming the line; `answers.order` where a blow is missing or comes twice
 */
export function readAnswerSheet(text: string, fileName: string): FaultId[][] {
  const answers = new Map<number, FaultId[]>();
  for (const [i, raw] of text.split(/\r?\n/).entries()) {
    const line = raw.replace(/#.*$/, '').trim();
    if (line === '') continue;
    const [, number, named] = LINE.exec(line) ?? [];
    const faults = (named ?? '').split(',').map((fault) => fault.trim());
    const wrong = faults.find((fault) => fault !== NOTHING && !isAsked(fault));
    if (number === undefined || wrong !== undefined || (faults.includes(NOTHING) && faults.length > 1)) {
      throw new InputError(
        'answers.line',
        `${fileName}, line ${i + 1}: "${line}" is no answer.`,
        `Write for instance "3: clipping, noise" or "3: none". Faults are ${QUIZ_FAULTS.join(', ')}.`,
      );
    }
    if (answers.has(Number(number))) throw outOfOrder(fileName, `blow ${number} is answered twice`);
    answers.set(Number(number), faults.filter(isAsked));
  }
  return Array.from({ length: answers.size }, (_, i) => {
    const answer = answers.get(i + 1);
    if (!answer) throw outOfOrder(fileName, `there is no answer to blow ${i + 1}`);
    return answer;
  });
}

function isAsked(fault: string): fault is FaultId {
  return QUIZ_FAULTS.some((asked) => asked === fault);
}

function outOfOrder(fileName: string, what: string): InputError {
  return new InputError(
    'answers.order',
    `${fileName}: ${what}.`,
    'Answer each blow once, counted from 1 as on the paper.',
  );
}
