import type { CallAnswer, CallName, CallRequest, WindowCommandId } from '../core/workspace/contract.ts';

/**
 * The window's one way out: every call of the contract, through the shell's bridge where the window runs in the
 * desktop shell, else by HTTP to the loopback host that served the page.
 */
type Bridge = {
  call(name: CallName, request: unknown, opening: string): Promise<unknown>;
  onCommand(listener: (id: WindowCommandId) => void): () => void;
};

declare global {
  interface Window {
    stemroot?: Bridge;
  }
}

const TOKEN_KEY = 'stemroot.token';
const TOKEN_IN_ADDRESS = /^#token=([\w-]+)$/;

let token = '';

/** Takes the host's secret, handed over once in the address, and keeps it for this tab; it leaves the address at once. */
export function takeToken(): void {
  const given = TOKEN_IN_ADDRESS.exec(location.hash)?.[1];
  if (given !== undefined) {
    sessionStorage.setItem(TOKEN_KEY, given);
    history.replaceState(null, '', location.pathname + location.search);
  }
  token = sessionStorage.getItem(TOKEN_KEY) ?? '';
}

/** Hears what is chosen in the menu of the shell; in a browser there is none. @returns stops hearing */
export function hearCommands(listener: (id: WindowCommandId) => void): () => void {
  return window.stemroot?.onCommand(listener) ?? (() => {});
}

/**
 * Makes one call. Never rejects: what goes wrong on the way comes back as a failed answer, so that every
 * screen shows errors in one manner.
 */
export async function callHost<N extends CallName>(name: N, request: CallRequest<N>): Promise<CallAnswer<N>> {
  const asked = await knowOpening();
  if (!asked.ok) return asked;
  const answer = await askHost(name, request, asked.mark);
  if (answer.ok && answer.wrote) hearOwn(answer.wrote);
  return answer;
}

type Opening = { ok: true; mark: string; workspace: string } | Extract<CallAnswer<CallName>, { ok: false }>;

let opening: Promise<Opening> | null = null;

function knowOpening(): Promise<Opening> {
  opening ??= askOpening();
  return opening;
}

/** Identity of the workspace that everything in this window is of, the same over starts of the program; null where nobody said so. */
export async function readWorkspaceId(): Promise<string | null> {
  const asked = await knowOpening();
  return asked.ok ? asked.workspace : null;
}

/** Asked once, before any other call: all calls of this window go to one workspace, or nowhere. */
async function askOpening(): Promise<Opening> {
  const answer = await askHost('shelf.list', {}, '');
  if (answer.ok) {
    const { opening: mark, workspaces } = answer.value;
    return { ok: true, mark, workspace: workspaces.find(({ isOpen }) => isOpen)?.id ?? '' };
  }
  // without a shelf there is one workspace alone
  if (answer.code === 'call.notHere') return { ok: true, mark: '', workspace: '' };
  opening = null;
  return answer;
}

let hearOwn: (entries: readonly number[]) => void = () => {};

/** Has the entries of the trail told that calls of this window add. */
export function hearOwnEntries(listener: typeof hearOwn): void {
  hearOwn = listener;
}

async function askHost<N extends CallName>(
  name: N,
  request: CallRequest<N>,
  mark: string,
): Promise<CallAnswer<N>> {
  try {
    if (window.stemroot) return (await window.stemroot.call(name, request, mark)) as CallAnswer<N>;
    const response = await fetch(`/call/${name}`, {
      method: 'POST',
      headers: {
        'content-type': 'application/json',
        'x-stemroot-token': token,
        'x-stemroot-opening': mark,
      },
      body: JSON.stringify(request),
    });
    return (await response.json()) as CallAnswer<N>;
  } catch (error) {
    return {
      ok: false,
      code: 'window.unreachable',
      message: `The program behind this window did not answer ${name}: ${(error as Error).message}`,
      hint: 'Start Stemroot again and open the address that it prints. What was stored is kept.',
    };
  }
}
