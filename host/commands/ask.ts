import { StemrootError } from '../../core/errors.ts';
import {
  type CallName,
  type CallRequest,
  type CallResponse,
  callService,
  type Handlers,
} from '../../core/workspace/index.ts';

/** Makes one call of the contract, its request checked as a window's is. @throws StemrootError where it is refused */
export async function ask<N extends CallName>(
  handlers: Handlers,
  name: N,
  request: CallRequest<N>,
): Promise<CallResponse<N>> {
  const answer = await callService(handlers, name, request);
  if (!answer.ok) throw new StemrootError(answer.code, answer.message, answer.hint);
  return answer.value as CallResponse<N>;
}
