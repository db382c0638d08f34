import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { Command, InvalidArgumentError } from 'commander';
import { StemrootError } from '../core/errors.ts';
import { openDesk, openStore, withPrinter } from '../core/workspace/index.ts';
import { buildWindow, WINDOW_FOLDER } from './buildWindow.ts';
import { DEMO_WORKSPACE, makeDemo } from './demo.ts';
import { findElectron, runElectron } from './electronBinary.ts';
import { openBrowser } from './openBrowser.ts';
import { printPdf } from './printPdf.ts';
import { serve } from './serve.ts';

const LARGEST_PORT = 65535;

type Options = { port?: number; open: boolean };

/** Opens the window on a workspace: in Electron where its program is at hand, else in a browser. */
async function start(workspace: string | undefined, options: Options): Promise<void> {
  const path = workspace === undefined ? DEMO_WORKSPACE : resolve(workspace);
  if (workspace === undefined && !existsSync(path)) {
    say('There is no demo workspace yet; making it.');
    await makeDemo();
  }
  // What is wrong with the workspace is told before anything long begins.
  await openStore(path).close();
  await buildWindow();
  const electron = options.open && options.port === undefined ? findElectron() : null;
  if (electron !== null) {
    process.exitCode = await runElectron(electron, path);
    return;
  }
  await serveWindow(path, options);
}

async function serveWindow(path: string, { port, open }: Options): Promise<void> {
  const desk = openDesk(path);
  const host = await serve(withPrinter(desk.answer, printPdf), WINDOW_FOLDER, port);
  say(`The window is at ${host.address}`);
  say('Only this machine can reach it, and only by this address. Stop with Ctrl+C.');
  if (open) openBrowser(host.address);
  for (const signal of ['SIGINT', 'SIGTERM'] as const) {
    process.once(signal, async () => {
      await host.close();
      await desk.close();
    });
  }
}

function say(text: string): void {
  process.stdout.write(`${text}\n`);
}

function parsePort(text: string): number {
  const port = Number(text);
  if (Number.isInteger(port) && port >= 0 && port <= LARGEST_PORT) return port;
  throw new InvalidArgumentError(`A port is a whole number from 0 to ${LARGEST_PORT}.`);
}

try {
  await new Command('start')
    .argument('[workspace]', 'workspace file; the demo where none is named')
    .option(
      '--port <port>',
      'serve the window for a browser, on this port of the loopback address',
      parsePort,
    )
    .option('--no-open', 'serve the window for a browser, and open none')
    .action(start)
    .parseAsync();
} catch (error) {
  if (!(error instanceof StemrootError)) throw error;
  process.stderr.write(`${error.message}\n${error.hint}\n`);
  process.exitCode = 1;
}
