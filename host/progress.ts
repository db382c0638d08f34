import { Presets, SingleBar } from 'cli-progress';

export type Progress = { step(): void; moveTo(done: number): void; stop(): void };

/** Shows how far a long step is: a bar on a terminal, one line where standard error is a file or a pipe; nothing where there is nothing to do. */
export function startProgress(label: string, total: number): Progress {
  if (total === 0 || !process.stderr.isTTY) {
    if (total > 0) process.stderr.write(`${label}: ${total}\n`);
    return { step: () => {}, moveTo: () => {}, stop: () => {} };
  }
  const bar = new SingleBar(
    { format: `${label} {bar} {value}/{total}, {eta} s left`, hideCursor: true, clearOnComplete: false },
    Presets.shades_classic,
  );
  bar.start(total, 0);
  return { step: () => bar.increment(), moveTo: (done) => bar.update(done), stop: () => bar.stop() };
}
