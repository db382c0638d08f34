import type { Answers, Entry, Rows } from '../intakeTypes.ts';

/** Lists of the form to which rows can be added. */
export type RowList = keyof Rows;

/** An answer by its path, as checks name it: `circumferences.0.height`. */
export function entryAt(answers: Answers, path: string): Entry {
  return path
    .split('.')
    .reduce<unknown>((part, key) => (part as Record<string, unknown>)[key], answers) as Entry;
}

/** The same answers with one changed. */
export function changeEntry(answers: Answers, path: string, entry: Entry): Answers {
  return changeAt(answers, path.split('.'), entry) as Answers;
}

export function addRow(answers: Answers, list: RowList, rows: Rows): Answers {
  return { ...answers, [list]: [...answers[list], structuredClone(rows[list])] };
}

export function removeRow(answers: Answers, list: RowList | 'recordings', index: number): Answers {
  return { ...answers, [list]: answers[list].filter((_, i) => i !== index) };
}

/** Whether a channel of a recording is used. */
export function setChannelUse(answers: Answers, recording: number, channel: number, used: boolean): Answers {
  return changeAt(
    answers,
    ['recordings', String(recording), 'channels', String(channel), 'used'],
    used,
  ) as Answers;
}

/** Gives every channel of every recording the full scale and corner of one. */
export function spreadChannel(answers: Answers, recording: number, channel: number): Answers {
  const { fullScale, corner } = answers.recordings[recording]!.channels[channel]!;
  return {
    ...answers,
    recordings: answers.recordings.map((other) => ({
      ...other,
      channels: other.channels.map((one) => ({ ...one, fullScale, corner })),
    })),
  };
}

function changeAt(part: unknown, [key, ...rest]: string[], value: unknown): unknown {
  if (key === undefined) return value;
  if (Array.isArray(part)) {
    return part.map((item, i) => (i === Number(key) ? changeAt(item, rest, value) : item));
  }
  const record = part as Record<string, unknown>;
  return { ...record, [key]: changeAt(record[key], rest, value) };
}
