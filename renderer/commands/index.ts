/*
 * What can be done anywhere in the window, and the keys for it; the list itself comes with the contract, for the shell's menu is made from it too.
 */
export { Commands } from './Commands.tsx';
