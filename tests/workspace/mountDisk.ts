import { execFileSync, spawnSync } from 'node:child_process';
import { onTestFinished } from 'vitest';
import { makeFolder } from './visitFixture.ts';

/** A disk of its own in memory, as large as it is told to be and no larger. */
export type Disk = { readonly folder: string; makeReadOnly(): void };

/** Says why disks cannot be made here; null where they can. Linux alone has them, for root alone. */
export function whyNoDisks(): string | null {
  if (process.platform !== 'linux' || process.getuid?.() !== 0)
    return 'only root on Linux can make a small disk';
  const folder = execFileSync('mktemp', ['-d'], { encoding: 'utf8' }).trim();
  const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=1m', 'none', folder]).status === 0;
  if (mounted) execFileSync('umount', [folder]);
  execFileSync('rmdir', [folder]);
  return mounted ? null : 'this machine lets nobody mount a disk';
}

/** Mounts a disk that is gone after the test. */
export function mountDisk(megabytes: number): Disk {
  const folder = makeFolder();
  execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${megabytes}m`, 'none', folder]);
  onTestFinished(() => void execFileSync('umount', [folder]));
  return {
    folder,
    makeReadOnly: () => void execFileSync('mount', ['-o', 'remount,ro', folder]),
  };
}
