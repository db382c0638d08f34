import { spawn } from 'node:child_process';

const COMMANDS: Readonly<Partial<Record<NodeJS.Platform, readonly [string, ...string[]]>>> = {
  darwin: ['open'],
  win32: ['rundll32', 'url.dll,FileProtocolHandler'],
};
const ELSEWHERE = ['xdg-open'] as const;

/** Asks the desktop to open an address; where there is no desktop, the printed address remains. */
export function openBrowser(address: string): void {
  if (process.platform === 'linux' && !process.env.DISPLAY && !process.env.WAYLAND_DISPLAY) return;
  const [command, ...args] = COMMANDS[process.platform] ?? ELSEWHERE;
  const child = spawn(command, [...args, address], { stdio: 'ignore', detached: true });
  child.on('error', () => {});
  child.unref();
}
