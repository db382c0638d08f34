import { vi } from 'vitest';
import { runCli } from '../../host/cli.ts';

/** Runs a command within this process, and catches its exit code and what it writes. */
export async function runCommand(
  ...args: readonly string[]
): Promise<{ code: number; out: string; error: string }> {
  const written = { out: '', error: '' };
  const catchInto = (stream: NodeJS.WriteStream, key: 'out' | 'error') =>
    vi.spyOn(stream, 'write').mockImplementation((text) => {
      written[key] += String(text);
      return true;
    });
  const spies = [
    catchInto(process.stdout, 'out'),
    catchInto(process.stderr, 'error'),
    vi.spyOn(console, 'error').mockImplementation(() => {}),
  ];
  try {
    return { code: await runCli(args), ...written };
  } finally {
    for (const spy of spies) spy.mockRestore();
  }
}
