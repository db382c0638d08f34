import type { Command } from 'commander';
import { prepareTeamStore, ROLES } from '../../core/workspace/index.ts';
import { runMove } from './move.ts';

/** Adds what is done with a team store itself, and moving a workspace into one or back. */
export function addTeamCommands(program: Command, finish: (exitCode: number) => void): void {
  const team = program.command('team').description('look after a store of a team, in a PostgreSQL database');
  team
    .command('prepare')
    .description('make the tables and roles of a team store, or bring them to the newest form')
    .argument('<connection>', 'postgresql://person@machine/database; the password in ~/.pgpass or PGPASSWORD')
    .option('--empty', 'without an entry in the trail, for a workspace that is to be moved here')
    .action(async (connection: string, options: { empty?: boolean }) =>
      finish(await runPrepare(connection, options)),
    );
  program
    .command('move')
    .description(
      'move a workspace file into a team store or back, all of it, proved and compared on both sides',
    )
    .argument('<from>', 'workspace file, or connection string of a team store')
    .argument('<to>', 'the other; empty or not there yet, or where the same move was broken off')
    .option('--json', 'what both sides hold, as one JSON object')
    .action(async (from: string, to: string, options: { json?: boolean }) =>
      finish(await runMove(from, to, options)),
    );
}

async function runPrepare(connection: string, options: { empty?: boolean }): Promise<number> {
  const tell = (poles: number) => {
    if (poles > 0) process.stderr.write(`The register is being made: ${poles} poles to go.\n`);
  };
  const { formBefore, form } = await prepareTeamStore(connection, { ...options, tell });
  const what = formBefore === 0 ? 'was made' : formBefore === form ? 'stood already' : 'was brought forward';
  process.stdout.write(
    `The team store ${what}, in form ${form}. Let people in by GRANT ${Object.values(ROLES).join(' | ')} TO person.\n`,
  );
  return 0;
}
