import { FILTER_BASE64 } from './filterBytes.ts';
import { instantiate, reserve } from './memory.ts';

type Filter = (
  x: number,
  taps: number,
  tapsEnd: number,
  stepBytes: number,
  out: number,
  outEnd: number,
) => void;

const VALUE_BYTES = Float64Array.BYTES_PER_ELEMENT;
/** Weights and outputs that go through the kernel together. */
const TOGETHER = 4;
/** Samples handed to the kernel at a time, at least: they fit a cache. */
const STRETCH = 16_384;

let kernel: { readonly memory: WebAssembly.Memory; readonly filter: Filter } | null = null;

/**
 * Correlates a block with weights at every `step`-th sample, by the kernel of `filter.wat`: out[i] = sum over j of
 * taps[j] block[i step + j]. With weights that are symmetric, the outputs of a filter.
 * @param block - `(out.length - 1) * step + taps.length` samples or more
 * @param out - overwritten
 */
export function correlateBlock(
  block: Float64Array,
  taps: Float64Array,
  step: number,
  out: Float64Array,
): void {
  if (out.length === 0) return;
  kernel ??= load();
  const { memory, filter } = kernel;
  const padded = roundUp(taps.length);
  const reach = padded - step;
  const outputs = Math.min(roundUp(out.length), roundUp(Math.max(1, Math.floor(STRETCH / step))));
  const samples = outputs * step + reach;
  reserve(memory, (padded + outputs + samples) * VALUE_BYTES);
  const tapsEnd = padded * VALUE_BYTES;
  const outEnd = tapsEnd + outputs * VALUE_BYTES;
  const view = new Float64Array(memory.buffer, 0, padded + outputs + samples);
  view.set(taps);
  view.fill(0, taps.length, padded);
  for (let first = 0; first < out.length; first += outputs) {
    const count = Math.min(outputs, out.length - first);
    const from = first * step;
    const here = block.subarray(from, Math.min(from + samples, block.length));
    view.set(here, padded + outputs);
    // weights of zero and outputs that nobody reads meet what lies behind the samples
    view.fill(0, padded + outputs + here.length);
    filter(outEnd, 0, tapsEnd, step * VALUE_BYTES, tapsEnd, tapsEnd + roundUp(count) * VALUE_BYTES);
    out.set(view.subarray(padded, padded + count), first);
  }
}

function roundUp(count: number): number {
  return Math.ceil(count / TOGETHER) * TOGETHER;
}

function load(): typeof kernel & object {
  const { memory, exports } = instantiate(FILTER_BASE64);
  return { memory, filter: exports.filter as Filter };
}
