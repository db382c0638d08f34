/**
 * How a workspace file is opened: who may write it, whether it is whole and as Stemroot made it, and what is done where it can
 * only be read.
 */
export { checkForm, findStrangeItem } from './checkForm.ts';
export { findNetworkFileSystem } from './diskKind.ts';
export { checkApplication, checkStart } from './identify.ts';
export { type Lock, lockWorkspace } from './lockWorkspace.ts';
export { readForm } from './migrate.ts';
export {
  type Notice,
  noticeAsked,
  noticeInUse,
  noticeMoving,
  noticeNetwork,
  noticeNewer,
  noticeUnfinished,
  noticeUnwritable,
} from './notices.ts';
export { openForReading } from './openForReading.ts';
export { openForWriting } from './openForWriting.ts';
export { secure } from './secure.ts';
