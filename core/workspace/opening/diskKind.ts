import { realpathSync, statfsSync } from 'node:fs';
import { dirname } from 'node:path';

/**
 * File systems that lie on another machine, by the number that Linux gives them: statfs(2), Linux man-pages. FUSE (sshfs
 * and the like) may be local too, so it is told as "may be".
 */
const NETWORK_FILE_SYSTEMS: ReadonlyMap<number, string> = new Map([
  [0x6969, 'NFS'],
  [0x517b, 'SMB'],
  [0xff534d42, 'CIFS'],
  [0xfe534d42, 'SMB'],
  [0x5346414f, 'AFS'],
  [0x73757245, 'Coda'],
  [0x564c, 'NCP'],
  [0x01021997, '9P'],
  [0x00c36400, 'Ceph'],
  [0x65735546, 'FUSE, which may be on another machine'],
]);

/**
 * Kind of the network file system that a file lies on; null for a disk of this machine, and where the system does not tell
 * (its numbers are known for Linux only; on Windows a path that begins with two backslashes is on another machine).
 */
export function findNetworkFileSystem(path: string): string | null {
  if (process.platform === 'win32') return /^[\\/]{2}[^?.]/.test(path) ? 'a shared folder' : null;
  if (process.platform !== 'linux') return null;
  try {
    return nameFileSystem(statfsSync(realpathSync(dirname(path))).type);
  } catch {
    // a folder that cannot be asked is told of when the file is opened
    return null;
  }
}

/** @param type - as statfs gives it, signed or not */
export function nameFileSystem(type: number): string | null {
  return NETWORK_FILE_SYSTEMS.get(type >>> 0) ?? null;
}
