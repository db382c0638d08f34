import type { Answers, Entry } from './answers.ts';
import { FIELDS, type Field } from './fields.ts';
import { type Reading, readText, readValue } from './readEntry.ts';

/** Something about an answer: `wrong` keeps the visit from being written, `odd` asks for a second look. */
export type Problem = {
  /** Path of the answer: `pole.length`, `recordings.0.channels.1.azimuth`; a group where it is about all of it. */
  readonly field: string;
  readonly level: 'wrong' | 'odd';
  readonly words: string;
};

type Values<G extends Record<string, Field>> = {
  readonly [K in keyof G]: G[K]['kind'] extends 'text' | 'choice' | 'date' ? string | null : number | null;
};
type Fields = typeof FIELDS;

/** Everything that was entered, in SI. */
export type AnswerValues = {
  readonly pole: Values<Fields['pole']>;
  readonly measured: Values<Fields['measured']>;
  readonly circumferences: readonly Values<Fields['circumferences']>[];
  readonly cables: readonly Values<Fields['cables']>[];
  readonly attachments: readonly Values<Fields['attachments']>[];
  readonly recordings: readonly (Values<Fields['recordings']> & {
    readonly file: string;
    readonly channels: readonly (Values<Fields['channels']> & { readonly index: number })[];
  })[];
};

/** Reads every answer, and collects what is wrong with each by itself. Channels that are not used are left out. */
export function readAnswers(answers: Answers): { values: AnswerValues; problems: Problem[] } {
  const problems: Problem[] = [];

  function read<G extends Record<string, Field>>(
    fields: G,
    entries: { readonly [K in keyof G]: Entry },
    path: string,
  ): Values<G> {
    const values = Object.entries(fields).map(([key, field]) => {
      const { value, wrong } = readOne(entries[key]!, field);
      if (wrong !== null) problems.push({ field: `${path}.${key}`, level: 'wrong', words: wrong });
      return [key, value];
    });
    return Object.fromEntries(values);
  }

  const values: AnswerValues = {
    pole: read(FIELDS.pole, answers.pole, 'pole'),
    measured: read(FIELDS.measured, answers.measured, 'measured'),
    circumferences: answers.circumferences.map((row, i) =>
      read(FIELDS.circumferences, row, `circumferences.${i}`),
    ),
    cables: answers.cables.map((row, i) => read(FIELDS.cables, row, `cables.${i}`)),
    attachments: answers.attachments.map((row, i) => read(FIELDS.attachments, row, `attachments.${i}`)),
    recordings: answers.recordings.map((recording, r) => ({
      ...read(FIELDS.recordings, recording, `recordings.${r}`),
      file: recording.file,
      channels: recording.channels.flatMap((channel, c) =>
        channel.used
          ? [{ ...read(FIELDS.channels, channel, `recordings.${r}.channels.${c}`), index: channel.index }]
          : [],
      ),
    })),
  };
  return { values, problems };
}

function readOne(entry: Entry, field: Field): Reading<string | number> {
  const isText = field.kind === 'text' || field.kind === 'choice' || field.kind === 'date';
  return isText ? readText(entry, field) : readValue(entry, field);
}
