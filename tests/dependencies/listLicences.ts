/**
 * `npm run licences`: the licence of every installed package, from npm's own bill of materials, the rarest last. Ends with 1 where one
 * is not among those that a program under MIT can be built with and shipped.
 */
import { spawnSync } from 'node:child_process';

/** SPDX identifiers. The first ask for their notice to be kept, no more; MPL-2.0 binds its own files, which are used unchanged. */
const ACCEPTED = new Set([
  ...['MIT', 'ISC', 'BSD-2-Clause', 'BSD-3-Clause', 'Apache-2.0', 'BSL-1.0', 'BlueOak-1.0.0', '0BSD', 'Zlib'],
  ...['CC0-1.0', 'Unlicense', 'Python-2.0', 'WTFPL'],
  'MPL-2.0',
]);

/** Packages that name no licence in their manifest, and the one that their file of that name holds. */
const BY_FILE: Readonly<Record<string, string>> = { 'stack-trace': 'MIT' };

type Component = {
  name: string;
  version: string;
  licenses?: { license?: { id?: string; name?: string }; expression?: string }[];
};

const listed = spawnSync('npm', ['sbom', '--sbom-format', 'cyclonedx'], {
  encoding: 'utf8',
  maxBuffer: 256 * 1024 ** 2,
  shell: process.platform === 'win32',
});
if (listed.status !== 0) throw new Error(`npm sbom failed: ${listed.stderr}`);
const { components } = JSON.parse(listed.stdout) as { components: Component[] };

const byLicence = new Map<string, string[]>();
for (const component of components) {
  const licence = nameLicence(component);
  byLicence.set(licence, [...(byLicence.get(licence) ?? []), `${component.name}@${component.version}`]);
}
let refused = 0;
for (const [licence, packages] of [...byLicence].sort((a, b) => b[1].length - a[1].length)) {
  const good = isAccepted(licence);
  if (!good) refused += packages.length;
  process.stdout.write(`${good ? '' : 'NOT ACCEPTED: '}${licence}: ${packages.length}\n`);
  for (const name of packages.sort()) process.stdout.write(`    ${name}\n`);
}
process.stdout.write(`${components.length} packages, ${byLicence.size} licences, ${refused} not accepted\n`);
process.exitCode = refused === 0 ? 0 : 1;

function nameLicence({ name, licenses = [] }: Component): string {
  const told = licenses
    .map(({ license, expression }) => license?.id ?? license?.name ?? expression)
    .join(' AND ');
  return told || BY_FILE[name] || 'none named';
}

/** "A OR B" needs one that is accepted, "A AND B" both. */
function isAccepted(expression: string): boolean {
  return expression
    .replaceAll(/[()]/g, '')
    .split(' AND ')
    .every((part) => part.split(' OR ').some((id) => ACCEPTED.has(id)));
}
