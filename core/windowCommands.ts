/**
 * What can be done anywhere in the window, in the order of its menu: the one list that the command finder, the map of keys and the
 * shell's menu are made from. Keys are written as the shell writes them.
 */
export const WINDOW_COMMANDS = [
  { id: 'find', title: 'Find a command', keys: 'CmdOrCtrl+K' },
  { id: 'keys', title: 'Show the keys', keys: 'F1' },
  { id: 'register', title: 'Go to the register', keys: 'Alt+1' },
  { id: 'calibration', title: 'Go to the calibration', keys: 'Alt+2' },
  { id: 'classroom', title: 'Go to the classroom', keys: 'Alt+3' },
  { id: 'intake', title: 'Write a new visit down', keys: 'Alt+4' },
  { id: 'bringIn', title: 'Bring in visits', keys: 'CmdOrCtrl+O' },
  { id: 'colours', title: 'Change between light and dark colours', keys: 'Alt+0' },
] as const;

export type WindowCommandId = (typeof WINDOW_COMMANDS)[number]['id'];
