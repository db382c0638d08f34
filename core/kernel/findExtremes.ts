import { EXTREMES_BASE64 } from './extremesBytes.ts';
import { instantiate, reserve } from './memory.ts';

type FindExtremes = (x: number, stepBytes: number, out: number, outEnd: number) => void;

let kernel: { readonly memory: WebAssembly.Memory; readonly find: FindExtremes } | null = null;

/**
 * Finds of each `step` samples side by side the one furthest from zero, with its sign, of those equally far the first, by the kernel of
 * `extremes.wat`.
 * @param samples - where they end early, the last outputs have fewer, or are 0
 * @param out - overwritten
 */
export function findExtremes(samples: Float64Array, step: number, out: Float32Array): void {
  if (out.length === 0) return;
  kernel ??= load();
  const { memory, find } = kernel;
  const count = out.length * step;
  const outAt = count * Float64Array.BYTES_PER_ELEMENT;
  reserve(memory, outAt + out.byteLength);
  const view = new Float64Array(memory.buffer, 0, count);
  const here = samples.subarray(0, count);
  view.set(here);
  view.fill(0, here.length);
  find(0, step * Float64Array.BYTES_PER_ELEMENT, outAt, outAt + out.byteLength);
  out.set(new Float32Array(memory.buffer, outAt, out.length));
}

function load(): typeof kernel & object {
  const { memory, exports } = instantiate(EXTREMES_BASE64);
  return { memory, find: exports.findExtremes as FindExtremes };
}
