import { spawn } from 'node:child_process';

const COMMANDS: Readonly<Partial<Record<NodeJS.Platform, readonly [string, ...string[]]>>> = {
  darwin: ['open'],
  win32: ['rundll32', 'url.dll,FileProtocolHandler'],
};
const ELSEWHERE = ['xdg-open'] as const;

/** Whether there is a desktop that could open a page; where there is none, the printed address remains. */
export function hasDesktop(): boolean {
  return process.platform !== 'linux' || Boolean(process.env.DISPLAY || process.env.WAYLAND_DISPLAY);
}

/** Asks the desktop to open a page. @param page - holds no secret: every user of the machine can read a command line */
export function openBrowser(page: string): void {
  const [command, ...args] = COMMANDS[process.platform] ?? ELSEWHERE;
  const child = spawn(command, [...args, page], { stdio: 'ignore', detached: true });
  child.on('error', () => {});
  child.unref();
}
