/** Kernels: the inner loops that are written for the processor's vectors, as compiled WebAssembly with its text beside it. */
export { correlateBlock } from './correlateBlock.ts';
export { findExtremes } from './findExtremes.ts';
export { createKernel, type Kernel, listTurns } from './passFour.ts';
