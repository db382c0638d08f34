import { z } from 'zod';

/** Identity of a workspace on the shelf: it says nothing of a path, and a window can make none up. */
const shelfId = z.string().regex(/^[0-9a-f]{16}$/);

const shelved = z.object({
  id: shelfId,
  name: z.string(),
  folder: z.string(),
  openedAt: z.string(),
  isOpen: z.boolean(),
  isThere: z.boolean().describe('Whether the file is where it was.'),
});

/** Code of the refusal of a call from a window that shows another workspace than the one that is open. */
export const SHELF_CHANGED = 'shelf.changed';

const units = z.enum(['metric', 'us']);
const hints = z.boolean().describe('Whether a new user is given hints.');
const hintsDone = z.array(z.string().max(40)).max(50);

const preferences = z.object({
  units: units.default('metric'),
  hints: hints.default(true),
  hintsDone: hintsDone.default([]),
});

/**
 * What the program that opened the window keeps in its own settings folder: workspaces opened lately, and preferences of
 * the person. No workspace answers these calls.
 */
export const shelfCalls = {
  'shelf.list': {
    request: z.object({}),
    response: z.object({
      workspaces: z.array(shelved).describe('The latest first.'),
      preferences,
      opening: z
        .string()
        .describe(
          'Mark of the workspace that is open, new each time that one is opened. A window asks for it first, and every ' +
            'call to the workspace carries it; a call with another mark is refused.',
        ),
      canChoose: z.boolean().describe('Whether a dialog can be shown to choose or make another workspace.'),
    }),
  },
  'shelf.prefer': {
    request: z
      .object({ units: units.optional(), hints: hints.optional(), hintsDone: hintsDone.optional() })
      .describe('What is left out stays.'),
    response: z.object({ preferences }),
  },
  'shelf.open': { request: z.object({ id: shelfId }), response: z.object({ name: z.string() }) },
  'shelf.choose': {
    request: z.object({ make: z.boolean().describe('A new workspace; else one that is there.') }),
    response: z.object({ name: z.string().nullable().describe('null: the dialog was left.') }),
  },
  'shelf.forget': { request: z.object({ id: shelfId }), response: z.object({}) },
};
