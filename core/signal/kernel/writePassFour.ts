import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import loadCompiler from 'wabt';

/** Text of `passFourBytes.ts`: the kernel's text compiled. */
export async function formatPassFour(): Promise<string> {
  const compiler = await loadCompiler();
  const text = readFileSync(new URL('./passFour.wat', import.meta.url), 'utf8');
  const parsed = compiler.parseWat('passFour.wat', text, { simd: true });
  const bytes = Buffer.from(parsed.toBinary({}).buffer).toString('base64');
  parsed.destroy();
  const lines = bytes.match(/.{1,100}/g)!.map((line) => `  '${line}',`);
  return `/** passFour.wat compiled, in base64; made by writePassFour.ts. */
export const PASS_FOUR_BASE64 = [
${lines.join('\n')}
].join('');
`;
}

// Run as a program, `node core/signal/kernel/writePassFour.ts` renews the kept bytes; a test holds the two together.
if (process.argv[1] === fileURLToPath(import.meta.url)) {
  writeFileSync(new URL('./passFourBytes.ts', import.meta.url), await formatPassFour());
}
