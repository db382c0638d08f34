import type { choiceCalls } from '../contract/choiceCalls.ts';
import type { HandlersOf } from '../handlers.ts';
import type { Store } from '../store.ts';

export function createChoiceHandlers({ db }: Store): HandlersOf<typeof choiceCalls> {
  return {
    'choices.keep': async ({ name, choices }) => {
      const kept = { choices_json: JSON.stringify(choices), kept_at: new Date().toISOString() };
      await db
        .insertInto('kept_choices')
        .values({ name, ...kept })
        .onConflict((conflict) => conflict.column('name').doUpdateSet(kept))
        .execute();
      return { keptAt: kept.kept_at };
    },
    'choices.recall': async ({ names }) => {
      const rows = await db
        .selectFrom('kept_choices')
        .select(['name', 'choices_json'])
        .where('name', 'in', names)
        .execute();
      return { choices: Object.fromEntries(rows.map((row) => [row.name, JSON.parse(row.choices_json)])) };
    },
  };
}
