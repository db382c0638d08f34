import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import loadCompiler from 'wabt';

export const KERNELS = ['passFour', 'filter', 'extremes'] as const;

/** Text of a kernel's `*Bytes.ts`: its text compiled. */
export async function formatKernel(name: (typeof KERNELS)[number]): Promise<string> {
  const compiler = await loadCompiler();
  const text = readFileSync(new URL(`./${name}.wat`, import.meta.url), 'utf8');
  const parsed = compiler.parseWat(`${name}.wat`, text, { simd: true });
  const bytes = Buffer.from(parsed.toBinary({}).buffer).toString('base64');
  parsed.destroy();
  const lines = bytes.match(/.{1,100}/g)!.map((line) => `  '${line}',`);
  return `/** ${name}.wat compiled, in base64; made by writeKernels.ts. */
export const ${constantOf(name)} = [
${lines.join('\n')}
].join('');
`;
}

function constantOf(name: string): string {
  return `${name.replace(/[A-Z]/g, (letter) => `_${letter}`).toUpperCase()}_BASE64`;
}

// Run as a program, `node core/kernel/writeKernels.ts` renews the kept bytes; a test holds the two together.
if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const name of KERNELS) {
    writeFileSync(new URL(`./${name}Bytes.ts`, import.meta.url), await formatKernel(name));
  }
}
