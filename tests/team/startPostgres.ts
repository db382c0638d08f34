import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import pg from 'pg';

/** Where Debian puts the server's own programs, one folder a version. */
const DEBIAN_FOLDER = '/usr/lib/postgresql';
const POLL_MS = 50;
const MOST_POLLS = 400;

export type Postgres = {
  /** Connection string of the server's superuser, to the database that is always there. */
  readonly admin: string;
  stop(): Promise<void>;
};

/** Folder with `initdb` and `postgres`; null where PostgreSQL is not installed. */
export function findPostgres(): string | null {
  if (!existsSync(DEBIAN_FOLDER)) return null;
  const folders = readdirSync(DEBIAN_FOLDER).map((version) => join(DEBIAN_FOLDER, version, 'bin'));
  return folders.reverse().find((folder) => existsSync(join(folder, 'initdb'))) ?? null;
}

/**
 * Starts a real PostgreSQL in a folder of its own, on a free port of the loopback address; gone with {@link Postgres.stop}.
 * @param options.buffers - memory that it keeps pages in
 */
export async function startPostgres(programs: string, { buffers = '32MB' } = {}): Promise<Postgres> {
  const folder = mkdtempSync(join(tmpdir(), 'stemroot-pg-'));
  const data = join(folder, 'data');
  // PostgreSQL refuses to run as root
  const user = process.getuid?.() === 0 ? findUser('postgres') : null;
  if (user) chownSync(folder, user.uid, user.gid);
  const options = { ...user, cwd: folder };
  const made = spawnSync(
    join(programs, 'initdb'),
    [
      '--pgdata',
      data,
      '--username=keeper',
      '--auth=trust',
      '--encoding=UTF8',
      '--locale=C.UTF-8',
      '--no-sync',
    ],
    { ...options, encoding: 'utf8' },
  );
  if (made.status !== 0) throw new Error(`initdb failed: ${made.stderr}`);
  const port = await findFreePort();
  const server = spawn(
    join(programs, 'postgres'),
    [
      ...['-D', data, '-h', '127.0.0.1', '-p', String(port), '-k', folder],
      // the tests pull no plug: nothing here has to outlive a power cut
      ...['-c', 'fsync=off', '-c', 'max_connections=200', '-c', `shared_buffers=${buffers}`],
    ],
    { ...options, stdio: 'ignore' },
  );
  const admin = `postgresql://keeper@127.0.0.1:${port}/postgres`;
  await waitFor(admin, server);
  return {
    admin,
    async stop() {
      const ended = new Promise((resolve) => server.once('exit', resolve));
      // at once, whoever is still connected (PostgreSQL 15 documentation, 19.5 "Shutting Down the Server")
      server.kill('SIGINT');
      await ended;
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function findUser(name: string): { uid: number; gid: number } {
  const idOf = (option: string) => Number(spawnSync('id', [option, name], { encoding: 'utf8' }).stdout);
  return { uid: idOf('-u'), gid: idOf('-g') };
}

function findFreePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const { port } = probe.address() as { port: number };
      probe.close(() => resolve(port));
    });
  });
}

async function waitFor(admin: string, server: ChildProcess): Promise<void> {
  for (let i = 0; i < MOST_POLLS && server.exitCode === null; i++) {
    const client = new pg.Client({ connectionString: admin });
    try {
      await client.connect();
      await client.end();
      return;
    } catch {
      await setTimeout(POLL_MS);
    }
  }
  throw new Error('PostgreSQL did not start.');
}
