import { type FaultId, QUIZ_FAULTS } from '../../core/classroom/index.ts';
import { InputError } from '../../core/errors.ts';

/** What stands for "nothing is wrong". */
const NOTHING = 'none';
const LINE = /^(\d+)\s*:\s*(.*)$/;

/**
 * Reads answers to questions on paper: a line a blow, its number, a colon, and the faults that were ticked with commas between, or
 * `none`. Empty lines, and what follows a `#`, are passed over.
 * @param blows - how many are asked for
 * @returns by blow, in their order
 * @throws InputError `answers.line` naming the line; `answers.order` naming blows that are left out, come twice or are not asked for
 */
export function readAnswerSheet(text: string, fileName: string, blows: number): FaultId[][] {
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
    const blow = Number(number);
    if (answers.has(blow)) throw outOfOrder(fileName, `blow ${blow} is answered twice`);
    if (blow < 1 || blow > blows)
      throw outOfOrder(fileName, `${blows} blows are asked for, and no blow ${blow}`);
    answers.set(blow, faults.filter(isAsked));
  }
  const asked = Array.from({ length: blows }, (_, i) => i + 1);
  const leftOut = asked.filter((blow) => !answers.has(blow));
  if (leftOut.length > 0) {
    throw outOfOrder(fileName, `no answer to ${leftOut.length > 1 ? 'blows' : 'blow'} ${leftOut.join(', ')}`);
  }
  return asked.map((blow) => answers.get(blow)!);
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
