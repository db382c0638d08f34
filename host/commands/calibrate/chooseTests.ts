import type { CallRequest } from '../../../core/workspace/index.ts';
import { ask } from '../ask.ts';
import { print } from '../print.ts';
import { withWorkspace } from '../register.ts';

type Choice = CallRequest<'calibration.chooseTests'>;

export type Standing = Choice['standing'];
export type StandingOptions = {
  by: string;
  reason: string;
  already?: NonNullable<Choice['alreadyHere']>['answer'];
};

/** Sets the tests of a table aside, or takes up again those that are. */
export function runChooseTests(
  workspace: string,
  setId: number,
  standing: Standing,
  { by: chosenBy, reason, already: answer }: StandingOptions,
): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const { sets, lastChoice: seenChoice } = await ask(handlers, 'calibration.tests', {});
    const here = sets.find((set) => set.setId === setId)?.alreadyHere;
    const { tests } = await ask(handlers, 'calibration.chooseTests', {
      ...{ setId, standing, chosenBy, reason, seenChoice },
      ...(here && answer && { alreadyHere: { answer, earlier: here.earlier } }),
    });
    print(`${tests} tests of set ${setId} are ${standing}.`);
    return 0;
  });
}
