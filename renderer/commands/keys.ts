/** Whether a key press is the one that a command names, as `CmdOrCtrl+K`. */
export function matchesKeys(event: KeyboardEvent, keys: string): boolean {
  const parts = keys.split('+');
  const key = parts.at(-1)!;
  const pressed = event.key.toUpperCase() === key.toUpperCase() || event.code === `Digit${key}`;
  return (
    pressed &&
    (event.ctrlKey || event.metaKey) === parts.includes('CmdOrCtrl') &&
    event.altKey === parts.includes('Alt') &&
    !event.shiftKey
  );
}

/** Keys as they stand on the keyboard at hand. */
export function nameKeys(keys: string): string {
  return keys
    .replace('CmdOrCtrl', navigator.platform.startsWith('Mac') ? '⌘' : 'Ctrl')
    .replaceAll('+', ' + ');
}

/** Keys of the places, beside those of the commands: what is held or looked at answers to them. */
export const PLACE_KEYS: readonly { where: string; keys: readonly (readonly [string, string])[] }[] = [
  {
    where: 'Register',
    keys: [
      ['↑ ↓', 'go from visit to visit'],
      ['Enter', 'open the visit'],
      ['space, Shift + ↑ ↓', 'choose visits for a ruling or a report'],
    ],
  },
  {
    where: 'Bench',
    keys: [
      ['Ctrl + Z, Ctrl + Shift + Z', 'undo, redo'],
      ['← →', 'move a pick by a step, with Shift by ten; move what a plot shows'],
      ['+ − 0', 'zoom a plot, show all of it'],
      ['Enter', 'confirm a pick'],
      ['Delete', 'refuse a pick'],
      ['1 to 4', 'number a pick'],
    ],
  },
  {
    where: 'Calibration',
    keys: [
      ['arrows', 'walk from point to point, move a threshold'],
      ['space', 'choose a point'],
      ['Escape', 'let go of what is chosen'],
    ],
  },
];
