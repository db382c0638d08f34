import type { CallRequest, CallResponse } from '../types.ts';

export type { FaultId } from '../../core/workspace/contract.ts';
export type Blow = CallResponse<'classroom.findBlows'>['blows'][number];
export type BlowDescription = CallResponse<'classroom.describeBlow'>;
export type FaultMark = BlowDescription['marks'][number];
/** A blow by its place in the workspace, or by its turn in a quiz. */
export type Of = CallRequest<'classroom.waveform'>['of'];
export type BlowPlace = CallRequest<'classroom.describeBlow'>;
export type Waveform = CallResponse<'classroom.waveform'>;
export type Spectrum = CallResponse<'classroom.spectrum'>;
export type Spectrogram = CallResponse<'classroom.spectrogram'>;
export type LessonId = CallRequest<'classroom.openLesson'>['lessonId'];
export type OpenedLesson = CallResponse<'classroom.openLesson'>;
export type Lesson = OpenedLesson['lesson'];
export type LessonBlow = Lesson['blows'][number];
export type LessonEntry = CallResponse<'classroom.listLessons'>['lessons'][number];
export type Quiz = CallResponse<'classroom.startQuiz'>;
export type GradedQuiz = CallResponse<'classroom.gradeQuiz'>;
export type Tally = GradedQuiz['grading']['againstChecks'][number];
export type Score = CallResponse<'classroom.listScores'>['scores'][number];
