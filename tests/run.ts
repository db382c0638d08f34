/**
 * `npm test`: types, lint, arrows, unused code, unit and reference tests, build, window tests, one after the other.
 * Goes on after a failure, prints what failed, and closes with one line "N passed, N failed".
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

type Outcome = { passed: number; failed: number; skipped: number };
type Step = { name: string; run: () => Outcome };

const root = join(import.meta.dirname, '..');
const scratch = mkdtempSync(join(tmpdir(), 'stemroot-tests-'));

function runTool(command: string, args: readonly string[]): { code: number; output: string } {
  const path = `${join(root, 'node_modules', '.bin')}${process.platform === 'win32' ? ';' : ':'}${process.env.PATH}`;
  const result = spawnSync(command, args, {
    cwd: root,
    env: { ...process.env, PATH: path, FORCE_COLOR: '0', NODE_COMPILE_CACHE: join(scratch, 'compiled') },
    encoding: 'utf8',
    maxBuffer: 256 * 1024 * 1024,
    shell: process.platform === 'win32',
  });
  return {
    code: result.status ?? 1,
    output: `${result.stdout ?? ''}${result.stderr ?? ''}${result.error ?? ''}`,
  };
}

/** A tool that passes or fails as a whole. */
function check(name: string, command: string, args: readonly string[]): Step {
  return {
    name,
    run: () => {
      const { code, output } = runTool(command, args);
      if (code !== 0) process.stdout.write(output);
      return { passed: code === 0 ? 1 : 0, failed: code === 0 ? 0 : 1, skipped: 0 };
    },
  };
}

/** Below this many modules the cruise has lost its way, and its silence means nothing. */
const FEWEST_MODULES = 200;

const arrows: Step = {
  name: 'arrows between rooms',
  run: () => {
    const { output } = runTool('depcruise', [
      ...['core', 'host', 'electron', 'renderer', 'samples'],
      ...['--config', '.dependency-cruiser.cjs', '--output-type', 'json'],
    ]);
    const { summary } = JSON.parse(output.slice(output.indexOf('{'), output.lastIndexOf('}') + 1)) as {
      summary: { totalCruised: number; violations: { rule: { name: string }; from: string; to: string }[] };
    };
    for (const { rule, from, to } of summary.violations)
      process.stdout.write(`${rule.name}: ${from} -> ${to}\n`);
    if (summary.totalCruised < FEWEST_MODULES) {
      process.stdout.write(
        `Only ${summary.totalCruised} modules were cruised; at least ${FEWEST_MODULES} are there.\n`,
      );
    }
    const good = summary.violations.length === 0 && summary.totalCruised >= FEWEST_MODULES;
    return { passed: good ? 1 : 0, failed: good ? 0 : 1, skipped: 0 };
  },
};

/** Vitest with one configuration; counts single tests. */
function vitest(name: string, config: string): Step {
  return {
    name,
    run: () => {
      const report = join(scratch, `${config}.json`);
      const { code, output } = runTool('vitest', [
        ...[
          'run',
          '--config',
          config,
          '--reporter=default',
          '--reporter=json',
          `--outputFile.json=${report}`,
        ],
      ]);
      const told = output.split('\n').filter((line) => /^\s*(skipped|browser):/i.test(line));
      if (told.length > 0) process.stdout.write(`${told.join('\n')}\n`);
      if (code !== 0) process.stdout.write(output);
      try {
        const { numPassedTests, numFailedTests, numPendingTests, success } = JSON.parse(
          readFileSync(report, 'utf8'),
        ) as {
          numPassedTests: number;
          numFailedTests: number;
          numPendingTests: number;
          success: boolean;
        };
        // a file that does not load has no failed test of its own
        const failed = Math.max(numFailedTests, success && code === 0 ? 0 : 1);
        return { passed: numPassedTests, failed, skipped: numPendingTests };
      } catch {
        process.stdout.write(`${name} left no report.\n`);
        return { passed: 0, failed: 1, skipped: 0 };
      }
    },
  };
}

/** The kills of `npm run test:fault`, as many as two minutes hold; its counts are told whatever comes out. */
const faults: Step = {
  name: 'kills at random moments',
  run: () => {
    const { code, output } = runTool('node', ['tests/fault/run.ts', '--short']);
    process.stdout.write(output);
    return { passed: code === 0 ? 1 : 0, failed: code === 0 ? 0 : 1, skipped: 0 };
  },
};

const steps: Step[] = [
  check('types of core, host, shell and tests', 'tsc', ['-p', 'tsconfig.node.json']),
  check('types of the window', 'tsc', ['-p', 'tsconfig.browser.json']),
  check('types of what drives the window', 'tsc', ['-p', 'tsconfig.page.json']),
  check('lint', 'biome', ['check', '--error-on-warnings', '.']),
  arrows,
  check('unused code', 'knip', []),
  vitest('unit and reference tests', 'vitest.config.ts'),
  faults,
  check('build of the window', 'vite', ['build', '--logLevel', 'warn']),
  check('build of the shell', 'vite', [
    'build',
    '--config',
    'vite.electron.config.ts',
    '--mode',
    'main',
    '--logLevel',
    'warn',
  ]),
  check('build of the bridge', 'vite', [
    'build',
    '--config',
    'vite.electron.config.ts',
    '--mode',
    'preload',
    '--logLevel',
    'warn',
  ]),
  vitest('window tests in a real browser', 'vitest.window.config.ts'),
];

const total: Outcome = { passed: 0, failed: 0, skipped: 0 };
for (const { name, run } of steps) {
  process.stdout.write(`${name} ...\n`);
  const started = performance.now();
  const outcome = run();
  total.passed += outcome.passed;
  total.failed += outcome.failed;
  total.skipped += outcome.skipped;
  const seconds = ((performance.now() - started) / 1000).toFixed(0);
  process.stdout.write(`  ${outcome.passed} passed, ${outcome.failed} failed (${seconds} s)\n`);
}
rmSync(scratch, { recursive: true, force: true });
const skipped = total.skipped > 0 ? `, ${total.skipped} skipped` : '';
process.stdout.write(`${total.passed} passed, ${total.failed} failed${skipped}\n`);
process.exitCode = total.failed === 0 ? 0 : 1;
