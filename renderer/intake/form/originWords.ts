import type { Entry } from '../intakeTypes.ts';

/** Where an answer that nobody typed comes from. */
export const ORIGIN_WORDS: Readonly<Record<Exclude<Entry['from'], 'typed'>, string>> = {
  usual: 'usual practice',
  'last visit': 'as last time',
  file: 'from the file name',
};
