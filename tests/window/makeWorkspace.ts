import { basename } from 'node:path';
import { bringIn } from '../../host/bringIn.ts';
import { findVisitFiles } from '../../host/visitFiles.ts';

/**
 * Makes a workspace from visit files of the samples.
 * @param visitsFolder - where the samples are
 * @param poles - codes of the poles whose visits are taken; all of them where null
 * @param left - codes of the poles that are brought in but not assessed
 */
export async function makeWorkspace(
  path: string,
  visitsFolder: string,
  poles: readonly string[] | null,
  left: readonly string[] = [],
): Promise<void> {
  const isOf = (codes: readonly string[]) => (file: string) =>
    codes.some((code) => basename(file).startsWith(code));
  const files = findVisitFiles([visitsFolder]).filter(poles === null ? () => true : isOf(poles));
  const isLeft = isOf(left);
  const all = [
    ...(await bringIn(path, files.filter(isLeft))),
    ...(await bringIn(
      path,
      files.filter((file) => !isLeft(file)),
      { assess: true },
    )),
  ];
  const failed = all.find(({ outcome, refused }) => outcome.error ?? refused);
  if (failed) throw new Error(`${failed.outcome.file}: ${(failed.outcome.error ?? failed.refused)!.message}`);
}
