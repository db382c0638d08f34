import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { Command, InvalidArgumentError } from 'commander';
import { StemrootError } from '../core/errors.ts';
import { PROGRAM } from '../core/program.ts';
import { isTeamPlace, openWorkspace, withPrinter } from '../core/workspace/index.ts';
import { buildWindow, WINDOW_FOLDER } from './buildWindow.ts';
import { DEMO_WORKSPACE, makeDemo } from './demo.ts';
import { findElectron, runElectron } from './electronBinary.ts';
import { handOver } from './handOver.ts';
import { logCalls } from './logCalls.ts';
import { hasDesktop, openBrowser } from './openBrowser.ts';
import { openLog } from './openLog.ts';
import { printPdf } from './printPdf.ts';
import { serve } from './serve.ts';
import { openWorkbench } from './shelf/index.ts';
import { tellNotices } from './tellNotices.ts';

const LARGEST_PORT = 65535;
const MS_A_MINUTE = 60_000;
/** A week: what a timer of Node can hold with room to spare. */
const LONGEST_IDLE_MINUTES = 10_080;

type Options = { make?: boolean; port?: number; open: boolean; stopAfter?: number };

/** Opens the window on a workspace: in Electron where its program is at hand, else in a browser. */
async function start(workspace: string | undefined, options: Options): Promise<void> {
  const path =
    workspace === undefined ? DEMO_WORKSPACE : isTeamPlace(workspace) ? workspace : resolve(workspace);
  if (workspace === undefined && !existsSync(path)) {
    say('There is no demo workspace yet; making it.');
    await makeDemo();
  }
  // What is wrong with the workspace is told before anything long begins.
  const store = await openWorkspace(path, { create: options.make ?? false });
  tellNotices(store.notices);
  await store.close();
  await buildWindow();
  const electron = options.open && options.port === undefined ? findElectron() : null;
  if (electron !== null) {
    process.exitCode = await runElectron(electron, path);
    return;
  }
  await serveWindow(path, options);
}

async function serveWindow(path: string, { port, open, stopAfter }: Options): Promise<void> {
  const log = await openLog();
  const workbench = await openWorkbench(path);
  let page: ReturnType<typeof handOver> | null = null;
  const stop = async () => {
    page?.remove();
    await host.close();
    await workbench.close();
    log.info({}, 'stopped');
    log.close();
  };
  const host = await serve(logCalls(withPrinter(workbench.answer, printPdf), log), WINDOW_FOLDER, {
    port,
    log,
    onOpened: () => page?.remove(),
    onIdle: stopAfter === undefined ? undefined : { idleMs: stopAfter * MS_A_MINUTE, stop },
  });
  log.info({ port: host.port, program: PROGRAM }, 'started');
  say(`The window is at ${host.address}`);
  say('Only this machine can reach it, and only by this address. Stop with Ctrl+C.');
  if (open && hasDesktop()) {
    page = handOver(host.address);
    openBrowser(page.page);
  }
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, stop);
}

function say(text: string): void {
  process.stdout.write(`${text}\n`);
}

function parsePort(text: string): number {
  const port = Number(text);
  if (Number.isInteger(port) && port >= 0 && port <= LARGEST_PORT) return port;
  throw new InvalidArgumentError(`A port is a whole number from 0 to ${LARGEST_PORT}.`);
}

function parseMinutes(text: string): number {
  const minutes = Number(text);
  if (minutes > 0 && minutes <= LONGEST_IDLE_MINUTES) return minutes;
  throw new InvalidArgumentError(`A number of minutes up to ${LONGEST_IDLE_MINUTES} is expected.`);
}

try {
  await new Command('start')
    .argument('[workspace]', 'workspace file; the demo where none is named')
    .option('--make', 'make the workspace where there is none, to fill it by hand')
    .option(
      '--port <port>',
      'serve the window for a browser, on this port of the loopback address',
      parsePort,
    )
    .option('--no-open', 'serve the window for a browser, and open none')
    .option('--stop-after <minutes>', 'stop once nothing was asked for so long', parseMinutes)
    .action(start)
    .parseAsync();
} catch (error) {
  if (!(error instanceof StemrootError)) throw error;
  process.stderr.write(`${error.message}\n${error.hint}\n`);
  process.exitCode = 1;
}
