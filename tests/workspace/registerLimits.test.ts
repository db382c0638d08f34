import fc from 'fast-check';
import { sql } from 'kysely';
import { expect, it } from 'vitest';
import { registerQuerySchema } from '../../core/workspace/contract/registerCalls.ts';
import { createFinder } from '../../core/workspace/register/findVisits.ts';
import { readEntries } from '../../core/workspace/register/readEntries.ts';
import { listRulings } from '../../core/workspace/rulings.repository.ts';
import { createInventor, storedThing } from './inventRegister.ts';
import { makeStore } from './visitFixture.ts';

it('what was looked for while the register changed is looked for anew', async () => {
  const store = await makeStore();
  const invent = createInventor(store);
  for (const thing of fc.sample(storedThing, { numRuns: 60, seed: 9 }))
    await invent(thing, { refresh: true });
  const reached = Promise.withResolvers<void>();
  const held = Promise.withResolvers<void>();
  const slow = store.db.withPlugin({
    transformQuery: ({ node }) => node,
    async transformResult({ result }) {
      if (result.rows.some((row) => 'visit_id' in row)) {
        reached.resolve();
        await held.promise;
      }
      return result;
    },
  });
  const finder = createFinder(slow);
  const query = registerQuerySchema.parse({ search: 'tv' });
  const first = finder.find(query);
  await reached.promise;
  await sql`UPDATE register_facets SET visits = visits + 1 WHERE facet_id = (SELECT max(facet_id) FROM register_facets)`.execute(
    store.db,
  );
  await sql`UPDATE register_state SET revision = revision + 1`.execute(store.db);
  const { visits } = await finder.summarise();
  held.resolve();
  await first;
  expect((await finder.find(query)).total).toBe(visits);
});

it('poles are read by the ten thousand, more than a statement has places for', async () => {
  const store = await makeStore();
  const invent = createInventor(store);
  for (const thing of fc.sample(storedThing, { numRuns: 10, seed: 9 }))
    await invent(thing, { refresh: true });
  const every = await readEntries(store.db, [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
  expect(every.length).toBeGreaterThan(0);
  const many = Array.from({ length: 70_000 }, (_, i) => i + 1);
  expect(await readEntries(store.db, many)).toEqual(every);
  expect(await listRulings(store.db, { visitIds: many })).toEqual(await listRulings(store.db));
});
