import { basename } from 'node:path';
import { REGISTER_NOTICE } from '../contract/registerCalls.ts';

/** What a person should know about how a workspace was opened; the form of a refusal, though nothing was refused. */
export type Notice = { readonly code: string; readonly message: string; readonly hint: string };

export function noticeInUse(path: string): Notice {
  return {
    code: 'store.inUse',
    message: `${basename(path)} is open in another window or command, so it can be read here and not changed.`,
    hint: 'Close the other one and open the workspace again to change it here.',
  };
}

export function noticeUnwritable(path: string): Notice {
  return {
    code: 'store.readOnlyDisk',
    message: `${basename(path)} lies where nothing can be written, so it can be read and not changed.`,
    hint: 'To change it, copy it to a disk that can be written, or get the right to write the file and its folder.',
  };
}

export function noticeNewer(path: string, form: number, known: number): Notice {
  return {
    code: 'store.newer',
    message: `${basename(path)} was written by a newer Stemroot (its form is ${form}, this program knows up to ${known}), so it can be read as far as this program understands it, and not changed.`,
    hint: 'Open it with the newer program.',
  };
}

export function noticeAsked(path: string): Notice {
  return {
    code: 'store.readOnly',
    message: `${basename(path)} was opened for reading only.`,
    hint: 'Open it again without that wish to change it.',
  };
}

export function noticeMoving(path: string): Notice {
  return {
    code: 'store.moving',
    message: `${basename(path)} was moved here only in part, so it can be read and not changed; later results and rulings are missing.`,
    hint: 'Complete the move by giving the same command again: npm run -s stemroot -- move <from> <to>',
  };
}

export function noticeUnfinished(path: string, poles: number): Notice {
  return {
    code: REGISTER_NOTICE,
    message: `The register of ${basename(path)} is made anew: ${poles} poles.`,
    hint: 'This happens once. The window shows what is there meanwhile; a command waits.',
  };
}

export function noticeNetwork(path: string, kind: string): Notice {
  return {
    code: 'store.network',
    message: `${basename(path)} lies on a network file system (${kind}). Such disks do not keep the locks that protect it.`,
    hint: 'Keep the workspace on a disk of this machine, and its backups on the network.',
  };
}
