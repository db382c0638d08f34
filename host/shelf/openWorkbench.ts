import { createHash, randomUUID } from 'node:crypto';
import { existsSync } from 'node:fs';
import { basename, dirname, resolve } from 'node:path';
import { InputError } from '../../core/errors.ts';
import { reportError } from '../../core/reportError.ts';
import {
  type AnswerCall,
  callService,
  type Desk,
  isTeamPlace,
  nameTeamPlace,
  openDesk,
  SHELF_CHANGED,
  type ShelfHandlers,
  WORKSPACE_ENDING,
  withoutPassword,
} from '../../core/workspace/index.ts';
import { readSettings, writeSettings } from './settingsFile.ts';
import { settingsFolder } from './settingsFolder.ts';

const ID_DIGITS = 16;

/** Shows a dialog that chooses a workspace or makes a new one; null where it is left. */
export type ChooseWorkspace = (make: boolean) => Promise<{ path: string; create: boolean } | null>;

export type Workbench = {
  readonly answer: AnswerCall;
  /** Waits for what is being worked on, then closes the workspace that is open. */
  close(): Promise<void>;
};

/**
 * Opens a workspace for a window, and keeps the shelf: which workspaces were opened lately, and what the person prefers.
 * Another workspace of the shelf takes the place of the open one while the window stays; where it cannot be opened, the open one
 * remains. A call from a window that still shows the former one is refused: visits of both have the same small numbers. Paths
 * never leave or enter by a call.
 * @param options.folder - of the settings; a test has its own
 * @param options.choose - the shell's dialog; none in a browser
 * @throws StoreError where the workspace cannot be opened
 */
export async function openWorkbench(
  path: string,
  options: { create?: boolean; folder?: string; choose?: ChooseWorkspace } = {},
): Promise<Workbench> {
  const { folder = settingsFolder(), choose } = options;
  let desk = await openWarming(path, options.create ?? false);
  let open = locate(path);
  let opening: string = randomUUID();
  let changing: Promise<unknown> = Promise.resolve();
  const underWay = new Set<Promise<unknown>>();
  const closing = new Map<string, Promise<void>>();
  noteOpened();

  function noteOpened(): void {
    const settings = readSettings(folder);
    const others = settings.workspaces.filter((entry) => entry.path !== withoutPassword(open));
    const entry = { path: withoutPassword(open), openedAt: new Date().toISOString() };
    writeSettings(folder, { ...settings, workspaces: [entry, ...others] });
  }

  /** One change after the other, so that each lets go of what the one before has opened. */
  function change(next: string, create: boolean): Promise<{ name: string }> {
    const changed = changing.then(() => changeNow(next, create));
    changing = changed.catch(() => {});
    return changed;
  }

  /** Opens the other before the one that is open is let go. */
  async function changeNow(next: string, create: boolean): Promise<{ name: string }> {
    const wanted = locate(next);
    if (wanted !== open) {
      // a workspace that is being closed is locked until that is done
      await closing.get(wanted);
      const former = { desk, path: open };
      desk = await openWarming(wanted, create);
      open = wanted;
      opening = randomUUID();
      closing.set(former.path, closeWhenIdle(former.desk));
    }
    noteOpened();
    return { name: nameOf(open) };
  }

  /** Its last answers are still on their way. */
  async function closeWhenIdle(former: Desk): Promise<void> {
    await Promise.allSettled(underWay);
    await former.close();
  }

  function find(id: string): string {
    const entry = readSettings(folder).workspaces.find((known) => idOf(known.path) === id);
    if (entry) return entry.path;
    throw new InputError(
      'shelf.unknown',
      'This workspace is not on the shelf any more.',
      'Choose another one, or start the program with its path.',
    );
  }

  const handlers: ShelfHandlers = {
    'shelf.list': () => {
      const { workspaces, preferences } = readSettings(folder);
      return {
        preferences,
        opening,
        canChoose: choose !== undefined,
        workspaces: workspaces.map((entry) => ({
          id: idOf(entry.path),
          name: nameOf(entry.path),
          folder: dirname(entry.path),
          openedAt: entry.openedAt,
          isOpen: entry.path === withoutPassword(open),
          // whether a team store answers is told when it is opened
          isThere: isTeamPlace(entry.path) || existsSync(entry.path),
        })),
      };
    },
    'shelf.prefer': (preferred) => {
      const settings = readSettings(folder);
      const { units, hints, hintsDone } = settings.preferences;
      const preferences = {
        units: preferred.units ?? units,
        hints: preferred.hints ?? hints,
        hintsDone: preferred.hintsDone ?? hintsDone,
      };
      writeSettings(folder, { ...settings, preferences });
      return { preferences };
    },
    'shelf.open': ({ id }) => change(find(id), false),
    'shelf.choose': async ({ make }) => {
      const chosen = await choose?.(make);
      return chosen ? change(chosen.path, chosen.create) : { name: null };
    },
    'shelf.forget': ({ id }) => {
      const settings = readSettings(folder);
      const workspaces = settings.workspaces.filter(
        (entry) => idOf(entry.path) !== id || entry.path === withoutPassword(open),
      );
      writeSettings(folder, { ...settings, workspaces });
      return {};
    },
  };

  const answer: AnswerCall = async (name, request, shown) => {
    if (Object.hasOwn(handlers, name)) return callService(handlers, name, request);
    if (shown !== opening) {
      return {
        ok: false,
        code: SHELF_CHANGED,
        message: 'Another workspace is open now than the one that this window shows; nothing was stored.',
        hint: 'Copy what you typed and still need, then load this window again.',
      };
    }
    const answered = desk.answer(name, request);
    underWay.add(answered);
    void answered.finally(() => underWay.delete(answered));
    return answered;
  };
  return {
    answer,
    async close() {
      await changing;
      await Promise.all(closing.values());
      await desk.close();
    },
  };
}

/** A desk that gets ready while the window is being opened. */
async function openWarming(place: string, create: boolean): Promise<Desk> {
  const desk = await openDesk(place, { create });
  desk.warmUp().catch((error) => reportError('The threads could not be warmed up', error));
  return desk;
}

function idOf(path: string): string {
  return createHash('sha256').update(path).digest('hex').slice(0, ID_DIGITS);
}

function nameOf(place: string): string {
  return isTeamPlace(place) ? nameTeamPlace(place) : basename(place, WORKSPACE_ENDING);
}

/** One text for one workspace, from wherever the program is started. */
function locate(place: string): string {
  return isTeamPlace(place) ? place : resolve(place);
}
