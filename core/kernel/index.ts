/** Kernels: the two inner loops that are written for the processor's vectors, as compiled WebAssembly with its text beside it. */
export { correlateBlock } from './correlateBlock.ts';
export { createKernel, type Kernel, listTurns } from './passFour.ts';
