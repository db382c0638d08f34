/**
 * Intake: a visit written down by hand. Units as crews use them, converted once; answers read and held against each other
 * while they are typed; a visit file made of them. Recordings themselves are read by core/recording.
 */
export { type Answers, answersSchema, type Entry, type Habits, habitsSchema } from './answers.ts';
export { beginAnswers, beginRecording, blankRows, learnHabits } from './beginAnswers.ts';
export { type ComposedVisit, composeVisit, type RecordingFacts } from './composeVisit.ts';
export { echoAnswers } from './echoAnswers.ts';
export { FIELDS, type Field } from './fields.ts';
export type { Problem } from './readAnswers.ts';
export { readNumber } from './readNumber.ts';
export {
  fromSi,
  QUANTITIES,
  toSi,
  UNIT_IDS,
  UNIT_SYSTEMS,
  UNITS,
  type UnitId,
  type UnitSystem,
} from './units.ts';
