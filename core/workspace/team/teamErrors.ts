import pg from 'pg';
import { StemrootError, StoreError } from '../../errors.ts';
import { ROLES } from './roles.ts';

type Known = { code: string; what: string; hint: string };

/** By the code of PostgreSQL or its first two letters, which are its class (PostgreSQL 15 documentation, Appendix A). */
const BY_STATE: Readonly<Record<string, Known>> = {
  STR01: {
    code: 'store.untold',
    what: 'refuses a change that has no entry in the trail',
    hint: 'This is an error of the program: report it with what was done just before.',
  },
  '55P03': {
    code: 'store.busy',
    what: 'is being written by somebody else',
    hint: 'Wait until it is done, then try again.',
  },
  '57014': {
    code: 'store.busy',
    what: 'took too long to answer',
    hint: 'Try again; if it stays, ask the one who keeps the database.',
  },
  '42501': {
    code: 'store.notAllowed',
    what: 'does not let this connection do that',
    hint: `Assessing and ruling is for members of ${ROLES.analyse}, publishing and choosing calibrations for those of ${ROLES.publish}.`,
  },
  '25006': {
    code: 'store.readOnly',
    what: 'can only be read over this connection',
    hint: 'Open it again with the right to change it.',
  },
  '3D000': { code: 'store.missing', what: 'is not there', hint: 'Check the name of the database.' },
  '23': {
    code: 'store.refused',
    what: 'refuses the change',
    hint: 'Evidence and results are written once; add a new visit, assessment or ruling instead.',
  },
  '22': {
    code: 'store.refused',
    what: 'cannot hold a value as it was given',
    hint: 'Correct the value and try again.',
  },
  '28': {
    code: 'store.open',
    what: 'does not let this person in',
    hint: 'Check name and password; a password is taken from ~/.pgpass or PGPASSWORD.',
  },
  '53': {
    code: 'store.full',
    what: 'has no room or no connection left',
    hint: 'Ask the one who keeps the database.',
  },
  '08': {
    code: 'store.open',
    what: 'cannot be reached',
    hint: 'Check the network and whether the database runs.',
  },
  '57': {
    code: 'store.open',
    what: 'was stopped by the one who keeps it',
    hint: 'Try again when the database runs.',
  },
};

const UNKNOWN: Known = {
  code: 'store.failed',
  what: 'cannot be read or written',
  hint: 'Try again; if it stays, ask the one who keeps the database.',
};
/** What the network says (errno(3), Linux man-pages; getaddrinfo(3)), and what pg says where a connection ends. */
const NETWORK =
  /ECONNREFUSED|ECONNRESET|ENOTFOUND|EAI_AGAIN|ETIMEDOUT|EHOSTUNREACH|ENOENT|EPIPE|timeout|terminated|SSL|certificate|password/i;

/** Turns an error of PostgreSQL into a StoreError that names the store; any other error is returned as it is. */
export function toTeamError(error: unknown, path: string): unknown {
  if (error instanceof StemrootError || !(error instanceof Error)) return error;
  if (error instanceof pg.DatabaseError) {
    const state = error.code ?? '';
    return makeError(path, BY_STATE[state] ?? BY_STATE[state.slice(0, 2)] ?? UNKNOWN, error.message);
  }
  // several addresses of one machine are tried, and told of together
  const reason = error instanceof AggregateError ? String(error.errors[0]?.message ?? '') : error.message;
  const code = (error as NodeJS.ErrnoException).code ?? '';
  return NETWORK.test(`${code} ${reason}`) && !('issues' in error)
    ? makeError(path, BY_STATE['08']!, reason)
    : error;
}

function makeError(path: string, { code, what, hint }: Known, reason: string): StoreError {
  return new StoreError(code, `${path} ${what} (${reason}).`, hint);
}
