/*
 * Register: every pole and visit of the workspace, those that need a look first, to be searched, sorted and opened.
 */
export { RegisterPlace } from './RegisterPlace.tsx';
