/**
 * Classroom: what teaching rests on, without pictures or store. Faults in words, lessons as files, the order of a quiz and
 * its grading. Judging blows is the matter of core/signal.
 */
export { FAULTS, type FaultId, faultIdSchema, QUIZ_FAULTS } from './faults.ts';
export { type Grading, gradeQuiz, gradingSchema, type QuizKey } from './gradeQuiz.ts';
export { type Lesson, type LessonBlow, lessonSchema, parseLesson } from './lesson.ts';
export { type JudgedBlow, proposeLesson } from './proposeLesson.ts';
export { PAPER_QUIZ, shuffleBlows } from './shuffleBlows.ts';
export { tabulateScores } from './tabulateScores.ts';
