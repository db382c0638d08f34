import { parsePlainly } from '../parsePlainly.ts';
import { type CallAnswer, type CallName, contract } from './contract.ts';
import type { Handlers, ShelfHandlers } from './handlers.ts';
import { refuse, toRefusal } from './refusal.ts';
import { collectEntries } from './trail/index.ts';

/**
 * Answers one call of a door: checks the request against the contract, runs its handler, and turns what is
 * thrown into a refusal. Errors that are nobody's input are written to standard error and told without detail.
 */
export async function callService(
  handlers: Partial<Handlers & ShelfHandlers>,
  name: string,
  rawRequest: unknown,
): Promise<CallAnswer<CallName>> {
  if (!Object.hasOwn(contract, name)) {
    return refuse(
      'call.unknown',
      `There is no call "${name}".`,
      'Update the window and the program together.',
    );
  }
  const known = name as CallName;
  const handler = handlers[known] as ((request: unknown) => unknown) | undefined;
  if (!handler) {
    return refuse(
      'call.notHere',
      `${name} is not answered here.`,
      'Start Stemroot by its own commands; what is around a workspace answers this.',
    );
  }
  const request = parsePlainly(contract[known].request, rawRequest);
  if (!request.success) {
    const { field, words } = request;
    return refuse('call.request', `Field ${field}: ${words}.`, 'Correct that field and try again.');
  }
  if (!isUnicode(request.data)) {
    return refuse(
      'call.request',
      `A text holds half of a character, which can be neither stored nor shown.`,
      'Type the text anew.',
    );
  }
  try {
    const { value, entries } = await collectEntries(() => handler(request.data));
    return { ok: true, value: value as never, ...(entries.length > 0 && { wrote: entries }) };
  } catch (error) {
    return toRefusal(error, name);
  }
}

/** Half of a surrogate pair has no form in UTF-8 and none in canonical JSON (RFC 8785, 3.2.2.2), by which rows are hashed. */
function isUnicode(value: unknown): boolean {
  if (typeof value === 'string') return value.isWellFormed();
  if (typeof value !== 'object' || value === null) return true;
  return Object.entries(value).every(([name, held]) => name.isWellFormed() && isUnicode(held));
}
