import type { Command } from 'commander';
import { runEnqueue, runFleet, runWorker } from './fleet.ts';

type Json = { json?: boolean };

/** Adds the commands that share the work on a team store among machines. @param finish - takes the exit code */
export function addFleetCommands(program: Command, finish: (exitCode: number) => void): void {
  program
    .command('enqueue')
    .description('put every visit of a team store that has no result into its queue')
    .argument('<store>', 'connection string, postgresql://...')
    .option('--json', 'counts as one JSON object')
    .action(async (store: string, options: Json) => finish(await runEnqueue(store, options)));
  program
    .command('worker')
    .description('assess visits out of the queue of a team store, on all cores; any number, on any machines')
    .argument('<store>', 'connection string, postgresql://...')
    .option('--until-empty', 'end once nothing is left to do; absent: wait for more until Ctrl-C')
    .option('--json', 'counts as one JSON object')
    .action(async (store: string, options: Json & { untilEmpty?: boolean }) =>
      finish(await runWorker(store, options)),
    );
  program
    .command('fleet')
    .description('print how far the work on a team store is')
    .argument('<store>', 'connection string, postgresql://...')
    .option('--json', 'counts as one JSON object')
    .action(async (store: string, options: Json) => finish(await runFleet(store, options)));
}
