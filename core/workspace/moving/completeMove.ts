import type { Store } from '../store.ts';
import { appendTrail } from '../trail/index.ts';
import type { Head } from './checkSource.ts';
import { MOVE_MARK } from './moveMark.ts';

/** Tells in the trail of the target where it came from, and opens it for work. */
export async function completeMove(source: Store, head: Head, target: Store): Promise<void> {
  await target.db.transaction().execute(async (transaction) => {
    await transaction.deleteFrom('kept_choices').where('name', '=', MOVE_MARK).execute();
    await appendTrail(transaction, {
      action: 'move',
      subject: 'this workspace',
      after: { from: source.path, lastEntry: head.seq, sha256: head.sha256 },
    });
  });
}
