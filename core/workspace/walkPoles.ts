import type { Kysely } from 'kysely';
import type { Tables } from './tables.ts';

/** Poles read at once: what a walk holds in memory, whatever the size of the workspace. */
const POLES_A_PART = 500;

/** Identities of all poles in parts, in the order in which they came in. */
export async function* walkPoles(db: Kysely<Tables>): AsyncGenerator<number[]> {
  for (let last = 0; ; ) {
    const poles = await db
      .selectFrom('poles')
      .select('pole_id')
      .where('pole_id', '>', last)
      .orderBy('pole_id')
      .limit(POLES_A_PART)
      .execute();
    if (poles.length === 0) return;
    const numbers = poles.map(({ pole_id }) => pole_id);
    yield numbers;
    last = numbers.at(-1)!;
  }
}
