import pg from 'pg';
import { StoreError } from '../../errors.ts';

/** Where a team store is: a connection string of PostgreSQL (PostgreSQL 15 documentation, 34.1.1.2 "Connection URIs"). */
const CONNECTION = /^postgres(?:ql)?:\/\//;

/** True for the connection string of a team store; any other place of a workspace is a file. */
export function isTeamPlace(place: string): boolean {
  return CONNECTION.test(place);
}

/**
 * A team store's name for people: user, machine and database, without password and options.
 * @throws StoreError `store.place`
 */
export function nameTeamPlace(place: string): string {
  const { user, host, port, database } = readTeamPlace(place);
  return `postgresql://${user}@${host}:${port}/${database}`;
}

/**
 * What a connection string means, filled up by PGUSER, PGPASSWORD and their like and by ~/.pgpass. The string itself stays out of
 * every message, since a password may be in it.
 * @throws StoreError `store.place`
 */
function readTeamPlace(place: string): {
  user: string;
  host: string;
  port: number;
  database: string;
} {
  try {
    const { user, host, port, database } = new pg.Client({ connectionString: place });
    return { user: user ?? '', host, port, database: database ?? '' };
  } catch {
    throw new StoreError(
      'store.place',
      'The connection string of the team store cannot be read.',
      'Write it as postgresql://user@machine:5432/database, and keep the password in ~/.pgpass.',
    );
  }
}

/** The same place without its password, to be kept or shown; the password is then taken from ~/.pgpass or PGPASSWORD. A file as it is. */
export function withoutPassword(place: string): string {
  if (!isTeamPlace(place)) return place;
  const inAuthority = place.replace(/^(postgres(?:ql)?:\/\/[^:@/?]*):[^@/?]*@/, '$1@');
  return inAuthority.replace(/([?&])password=[^&]*&?/g, '$1').replace(/[?&]$/, '');
}
