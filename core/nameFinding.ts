/** Name of a kind of finding, the same in the window, on the command line and in print: `soft-root` as `soft root`. */
export function nameFinding(id: string): string {
  return id.replaceAll('-', ' ');
}
