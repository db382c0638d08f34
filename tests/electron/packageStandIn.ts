/**
 * `npm run test:package`: makes an unpacked Linux package around a stand-in for Electron's program, and looks at what came out: which
 * fuses are set, that the archive holds the builds and no sources, that the database's binary lies beside it. It runs
 * electron-builder as a real package does; the program itself is never run.
 */
import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { extractFile, listPackage } from '@electron/asar';
import { FuseState, FuseV1Options, getCurrentFuseWire } from '@electron/fuses';
import { build, Platform } from 'electron-builder';
import { packaging } from '../../electron/packaging.ts';
import { buildWindow } from '../../host/buildWindow.ts';

/** Marks the fuses in Electron's program: @electron/fuses, "fuse wire". */
const SENTINEL = 'dL7pKGdnNz796PbbjQWNKmHXBZaB9tsX';
const WIRE = '101100111';

const EXPECTED: readonly (readonly [FuseV1Options, FuseState])[] = [
  [FuseV1Options.RunAsNode, FuseState.DISABLE],
  [FuseV1Options.EnableCookieEncryption, FuseState.ENABLE],
  [FuseV1Options.EnableNodeOptionsEnvironmentVariable, FuseState.DISABLE],
  [FuseV1Options.EnableNodeCliInspectArguments, FuseState.DISABLE],
  [FuseV1Options.EnableEmbeddedAsarIntegrityValidation, FuseState.ENABLE],
  [FuseV1Options.OnlyLoadAppFromAsar, FuseState.ENABLE],
  [FuseV1Options.GrantFileProtocolExtraPrivileges, FuseState.DISABLE],
];

const folder = mkdtempSync(join(tmpdir(), 'stemroot-package-'));
const failures: string[] = [];
try {
  await buildWindow();
  await build({
    targets: Platform.LINUX.createTarget('dir'),
    config: {
      ...packaging,
      directories: { output: join(folder, 'out') },
      electronDist: makeStandIn(join(folder, 'electron')),
    },
  });
  const made = join(
    folder,
    'out',
    readdirSync(join(folder, 'out')).find((name) => name.endsWith('-unpacked'))!,
  );
  const wire = await getCurrentFuseWire(join(made, 'stemroot'));
  for (const [fuse, state] of EXPECTED) {
    if (wire[fuse] !== state)
      failures.push(`The fuse ${FuseV1Options[fuse]} is ${wire[fuse]}, not ${state}.`);
  }
  const archive = join(made, 'resources', 'app.asar');
  const own = listPackage(archive, { isPack: false }).filter((path) => !path.startsWith('/node_modules'));
  for (const path of [
    '/dist/electron/main.js',
    '/dist/electron/preload.cjs',
    '/dist/electron/deskWorker.js',
    '/dist/renderer/index.html',
  ]) {
    if (!own.includes(path)) failures.push(`${path} is not in the package.`);
  }
  const foreign = own.filter(
    (path) => !/^\/(dist|LICENSE|package\.json)/.test(path) || /\.(ts|tsx|map)$/.test(path),
  );
  if (foreign.length > 0) failures.push(`The package holds ${foreign.slice(0, 5).join(', ')}.`);
  const { main } = JSON.parse(extractFile(archive, 'package.json').toString()) as { main: string };
  if (!own.includes(`/${main}`)) failures.push(`The package starts with ${main}, which it does not hold.`);
  const binaries = join(
    made,
    'resources',
    'app.asar.unpacked',
    'node_modules',
    'better-sqlite3',
    'prebuilds',
  );
  if (!readdirSync(binaries).includes(`linux-${process.arch}.node`))
    failures.push('The database has no binary beside the archive.');
} finally {
  rmSync(folder, { recursive: true, force: true });
}
for (const failure of failures) process.stdout.write(`${failure}\n`);
process.stdout.write(
  `package with a stand-in for Electron: ${failures.length === 0 ? 'as it should be' : 'failed'}\n`,
);
process.exitCode = failures.length === 0 ? 0 : 1;

function makeStandIn(into: string): string {
  mkdirSync(join(into, 'locales'), { recursive: true });
  const wire = Buffer.concat([Buffer.from(SENTINEL), Buffer.from([1, WIRE.length]), Buffer.from(WIRE)]);
  writeFileSync(join(into, 'electron'), Buffer.concat([Buffer.from('stand-in '), wire]), { mode: 0o755 });
  for (const name of ['locales/en-US.pak', 'chrome-sandbox', 'LICENSE', 'LICENSES.chromium.html'])
    writeFileSync(join(into, name), '');
  return into;
}
