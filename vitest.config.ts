import { configDefaults, defineConfig } from 'vitest/config';

/** Tests that ask no store, or one that is a file and nothing else: not run again on PostgreSQL. */
const NOT_OF_A_TEAM = [
  // copies, locks, pages and the start of a file; a team's database has PostgreSQL's own
  ...['backUp', 'crash', 'opening', 'store'],
  // changes a copied file cell by cell; tests/team/proveTeam.test.ts does so in a database
  'prove',
  // begins with a file that an earlier program left
  'repeat',
  // without a store
  ...['rankNeed', 'sortablePole', 'viewStabilisation'],
].map((name) => `tests/workspace/${name}.test.ts`);

/** Run on PostgreSQL alone. */
const TEAM_ALONE = ['tests/team/**', 'tests/fleet/**'];

/** Rooms whose tests touch nothing that another file could see: their modules are loaded once for all of them. */
const ALONE_IN_THEIR_ROOM = [
  ...['beam', 'classroom', 'core', 'docs', 'inference', 'intake', 'modal', 'recording', 'reference'],
  ...['renderer', 'report', 'samples', 'signal', 'strength', 'wood'],
].map((room) => `tests/${room}/**/*.test.ts`);

export default defineConfig({
  test: {
    testTimeout: 60_000,
    // the core that is left free otherwise is half of a small machine
    maxWorkers: '100%',
    reporters: ['default'],
    projects: [
      {
        extends: true,
        test: { name: 'rooms', include: ALONE_IN_THEIR_ROOM, isolate: false },
      },
      {
        extends: true,
        test: {
          name: 'unit',
          include: ['tests/**/*.test.ts'],
          exclude: [...configDefaults.exclude, 'tests/window/**', ...TEAM_ALONE, ...ALONE_IN_THEIR_ROOM],
          provide: { engine: 'file', postgres: null },
        },
      },
      {
        // what is asked of a store of either kind, again on a PostgreSQL of the run's own
        extends: true,
        test: {
          name: 'team',
          include: [...TEAM_ALONE.map((folder) => `${folder}/*.test.ts`), 'tests/workspace/**/*.test.ts'],
          exclude: [...configDefaults.exclude, ...NOT_OF_A_TEAM],
          provide: { engine: 'team' },
          globalSetup: ['tests/team/globalSetup.ts'],
        },
      },
    ],
  },
});
