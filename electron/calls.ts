import { ipcMain, type WebFrameMain } from 'electron';
import type { AnswerCall, CallAnswer, CallName } from '../core/workspace/index.ts';
import { isWindowAddress } from './appProtocol.ts';

/** The one channel between window and shell; preload.ts names it too, since it can import nothing. */
const CALL_CHANNEL = 'stemroot:call';

/** Answers the window's calls; a sender that is not the page of this program's own window is refused. */
export function answerCalls(answer: AnswerCall): void {
  ipcMain.handle(
    CALL_CHANNEL,
    async (event, name: unknown, request: unknown, opening: unknown): Promise<CallAnswer<CallName>> => {
      if (!isOwnPage(event.senderFrame)) {
        return {
          ok: false,
          code: 'shell.sender',
          message: 'Calls are taken from the window of this program only.',
          hint: 'Close this window and open Stemroot again.',
        };
      }
      return answer(String(name), request, String(opening));
    },
  );
}

/** The frame must still be there, be no frame within a page, and show the window's own address. */
function isOwnPage(frame: WebFrameMain | null): boolean {
  return frame !== null && frame.parent === null && isWindowAddress(frame.url);
}
