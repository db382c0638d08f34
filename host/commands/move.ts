import { moveStore } from '../../core/workspace/index.ts';
import { type Progress, startProgress } from '../progress.ts';
import { stopOnInterrupt } from '../stopOnInterrupt.ts';
import { print, printJson } from './print.ts';

/**
 * Moves a workspace file into a team store, or back, and tells what both sides hold. What a move that was broken off had brought
 * over stays; the same command goes on from there.
 * @returns 1 where it was broken off by Ctrl-C
 */
export async function runMove(from: string, to: string, options: { json?: boolean }): Promise<number> {
  let progress: Progress | undefined;
  const moved = await stopOnInterrupt((signal) =>
    moveStore(from, to, {
      signal,
      onStart: (entries) => {
        progress = startProgress('Entries of the trail to move', entries);
      },
      onProgress: (entries) => progress?.moveTo(entries),
      onCompare: () => {
        progress?.stop();
        process.stderr.write('Reading both sides once more to compare them\n');
      },
    }),
  ).finally(() => progress?.stop());
  if (!moved.completed) {
    process.stderr.write(
      `Stopped: ${moved.left} entries were not moved. The same command goes on from there.\n`,
    );
    return 1;
  }
  if (options.json) {
    printJson(moved);
    return 0;
  }
  const { rows, head, recordings, visits } = moved.compared;
  print(`${moved.from} was moved to ${moved.to}. Both hold the same, read from both sides and compared:`);
  for (const { table, count } of rows) print(`  ${table}: ${count}`);
  print(`The trail proves on both sides, with every row; last entry moved: ${head.seq}, hash ${head.sha256}`);
  print(`SHA-256 of all ${recordings} recordings and ${visits} visit files is right on both sides.`);
  print(
    `Entry ${head.seq + 1} there tells where it came from. The source was left as it is: keep it, and no longer work in it.`,
  );
  return 0;
}
