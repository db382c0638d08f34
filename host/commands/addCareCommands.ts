import { type Command, InvalidArgumentError } from 'commander';
import {
  runCareBackup,
  runCareCheck,
  runCareProve,
  runCareRegister,
  runCareRepeat,
  runCareRestore,
  runCareTrail,
} from './care.ts';

const SHOWN_ENTRIES = 50;

/** Adds the commands that look after a workspace file. @param finish - takes the exit code */
export function addCareCommands(program: Command, finish: (exitCode: number) => void): void {
  const care = program
    .command('care')
    .description('look after a workspace: check, prove, register, trail, repeat, backup, restore');
  care
    .command('check')
    .description('look at every page, index and link of the file')
    .argument('<workspace>')
    .action((workspace: string) => finish(runCareCheck(workspace)));
  care
    .command('prove')
    .description('prove the trail, every row and every recording by their hashes; names what was changed')
    .argument('<workspace>')
    .option(
      '--known <hash>',
      'hash of an entry noted down earlier: shows that nothing was cut off',
      parseHash,
    )
    .action(async (workspace: string, options: { known?: string }) =>
      finish(await runCareProve(workspace, options)),
    );
  care
    .command('register')
    .description('compare the stored register, row by row, with one computed anew from visits and results')
    .argument('<workspace>')
    .option('--rebuild', 'compute it anew first')
    .action(async (workspace: string, options: { rebuild?: boolean }) =>
      finish(await runCareRegister(workspace, options)),
    );
  care
    .command('trail')
    .description('print who changed what, when and why, the latest first')
    .argument('<workspace>')
    .option('--limit <n>', 'how many entries', parseCount, SHOWN_ENTRIES)
    .action(async (workspace: string, options: { limit: number }) =>
      finish(await runCareTrail(workspace, options)),
    );
  care
    .command('repeat')
    .description(
      'run stored assessments again from what is stored; says which gave other bytes, and by how much',
    )
    .argument('<workspace>')
    .argument('[pole]', 'absent: every pole')
    .action(async (workspace: string, pole: string | undefined) =>
      finish(await runCareRepeat(workspace, pole)),
    );
  care
    .command('backup')
    .description('back the workspace up while it may be in use, and look the copy over')
    .argument('<workspace>')
    .option('--folder <folder>', 'where backups go; absent: <name>.backups beside the workspace')
    .option('--keep <n>', 'how many are kept; the oldest go first', parseCount)
    .action(async (workspace: string, options: { folder?: string; keep?: number }) =>
      finish(await runCareBackup(workspace, options)),
    );
  care
    .command('restore')
    .description('put a backup in the place of the workspace; what stands there is kept beside it')
    .argument('<workspace>')
    .argument('[backup]', 'absent: the newest beside the workspace')
    .option('--reason <text>', 'why, for the trail')
    .action((workspace: string, backup: string | undefined, options: { reason?: string }) =>
      finish(runCareRestore(workspace, backup, options)),
    );
}

function parseHash(text: string): string {
  if (/^[0-9a-f]{64}$/.test(text)) return text;
  throw new InvalidArgumentError('A hash of 64 hexadecimal digits is expected.');
}

function parseCount(text: string): number {
  const count = Number(text);
  if (Number.isInteger(count) && count >= 1 && count <= 1000) return count;
  throw new InvalidArgumentError('A whole number from 1 to 1000 is expected.');
}
