/*
 * The classroom: good blows beside faulty ones with their faults marked, a blow played aloud, lessons made of the
 * workspace's own recordings, quizzes and their scores.
 */
export { ClassroomPlace } from './ClassroomPlace.tsx';
