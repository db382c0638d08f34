import type { Command } from 'commander';
import { prepareTeamStore, ROLES } from '../../core/workspace/index.ts';

/** Adds what is done with a team store itself. */
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
}

async function runPrepare(connection: string, options: { empty?: boolean }): Promise<number> {
  const { formBefore, form } = await prepareTeamStore(connection, options);
  const what = formBefore === 0 ? 'was made' : formBefore === form ? 'stood already' : 'was brought forward';
  process.stdout.write(
    `The team store ${what}, in form ${form}. Let people in by GRANT ${Object.values(ROLES).join(' | ')} TO person.\n`,
  );
  return 0;
}
