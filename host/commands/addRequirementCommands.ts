import type { Command } from 'commander';
import { parsePositive } from './parsePositive.ts';
import {
  runChooseProfile,
  runKeepProfile,
  runListProfiles,
  runSettings,
  runTryProfile,
  type TryProfileOptions,
} from './requirement.ts';

/** Adds the commands of what lines ask of their poles. @param finish - takes the exit code */
export function addRequirementCommands(program: Command, finish: (exitCode: number) => void): void {
  const requirement = program
    .command('requirement')
    .description(
      'what the line asks of its poles: settings to start from, profiles, and which poles take which',
    );
  requirement
    .command('settings')
    .description('print winds, load factors and rules to start from, each with its source')
    .argument('<workspace>')
    .option('--json', 'one JSON object')
    .action(async (workspace: string, options: { json?: boolean }) =>
      finish(await runSettings(workspace, options)),
    );
  requirement
    .command('try')
    .description('lay a profile against a pole before it is kept')
    .argument('<workspace>')
    .argument('<profile>', 'JSON file')
    .requiredOption('--height <m>', 'of the tip above ground line', parsePositive)
    .requiredOption('--girth <m>', 'circumference at ground line', parsePositive)
    .requiredOption('--tip-girth <m>', 'circumference at the tip', parsePositive)
    .option('--json', 'one JSON object')
    .action(async (workspace: string, profile: string, options: TryProfileOptions) =>
      finish(await runTryProfile(workspace, profile, options)),
    );
  requirement
    .command('keep')
    .description('keep a profile for good, as the next version of its name')
    .argument('<workspace>')
    .argument('<profile>', 'JSON file')
    .requiredOption('--author <name>')
    .action(async (workspace: string, profile: string, options: { author: string }) =>
      finish(await runKeepProfile(workspace, profile, options)),
    );
  requirement
    .command('list')
    .description('print the profiles of a workspace')
    .argument('<workspace>')
    .option('--json', 'one JSON array')
    .action(async (workspace: string, options: { json?: boolean }) =>
      finish(await runListProfiles(workspace, options)),
    );
  requirement
    .command('choose')
    .description('have poles compared with a profile from their next result on')
    .argument('<workspace>')
    .argument('<profile>', 'name, or name@version; class for the load of their class again')
    .argument('<poles...>', 'as the register has them')
    .requiredOption('--by <name>', 'who chooses it')
    .action(async (workspace: string, profile: string, poles: string[], options: { by: string }) =>
      finish(await runChooseProfile(workspace, profile, poles, options)),
    );
}
