/**
 * What can be done anywhere in the window, in the order of its menu: the one list that the command finder, the map of keys and the
 * shell's menu are made from. Keys are written as the shell writes them. A command is found by the words of `alsoFor`
 * too, which are shown nowhere: other names for it, and what is done in the place that it leads to.
 */
export const WINDOW_COMMANDS = [
  { id: 'find', title: 'Find a command', keys: 'CmdOrCtrl+K', alsoFor: '' },
  { id: 'keys', title: 'Show the keys', keys: 'F1', alsoFor: 'help shortcuts keyboard undo redo' },
  {
    id: 'register',
    title: 'Go to the register',
    keys: 'Alt+1',
    alsoFor: 'poles visits list table search filter home assess rule report print pdf export csv',
  },
  {
    id: 'calibration',
    title: 'Go to the calibration',
    keys: 'Alt+2',
    alsoFor: 'strength break tests relation threshold cost requirement loads profile',
  },
  {
    id: 'classroom',
    title: 'Go to the classroom',
    keys: 'Alt+3',
    alsoFor: 'lessons quiz scores training blows faults sound handout print',
  },
  { id: 'intake', title: 'Write a new visit down', keys: 'Alt+4', alsoFor: 'form enter add create pole' },
  {
    id: 'bringIn',
    title: 'Bring in visits',
    keys: 'CmdOrCtrl+O',
    alsoFor: 'import open load upload files recordings',
  },
  {
    id: 'colours',
    title: 'Change between light and dark colours',
    keys: 'Alt+0',
    alsoFor: 'theme mode night colors',
  },
] as const;

export type WindowCommandId = (typeof WINDOW_COMMANDS)[number]['id'];
