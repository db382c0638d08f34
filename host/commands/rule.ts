import { tellUninspected } from '../../core/tellUninspected.ts';
import { callService } from '../../core/workspace/index.ts';
import { print } from './print.ts';
import { findVisitOfPole, withWorkspace } from './register.ts';

export type RuleOptions = {
  decision: string;
  reason: string;
  analyst: string;
  inSpite?: boolean;
  date?: string;
};

/** Stores a ruling on the latest visit of a pole, or on that of a date. */
export async function runRule(
  workspace: string,
  poleId: string,
  { date: wantedDate, ...options }: RuleOptions,
): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const row = await findVisitOfPole(handlers, poleId, wantedDate);
    const { visitId, date } = row;
    const { assessmentId, rulings } = await handlers['visit.open']({ visitId });
    const standing = rulings.find(({ withdrawn }) => withdrawn === null);
    const seenRulingId = standing?.rulingId ?? null;
    const request = { visitId, assessmentId, seenRulingId, ...options };
    const answer = await callService(handlers, 'visit.rule', request);
    if (!answer.ok) {
      process.stderr.write(`${answer.message}\n${answer.hint}\n`);
      return 1;
    }
    const uninspected = options.decision === 'keep' ? tellUninspected([row]) : null;
    print(`${poleId}, visit of ${date}: ruled ${options.decision}.${uninspected ? ` ${uninspected}` : ''}`);
    return 0;
  });
}
