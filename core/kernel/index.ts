/** Kernels: the two inner loops that are written for the processor's vectors, as compiled WebAssembly with its text beside it. */
export { filterBlock } from './filterBlock.ts';
export { createKernel, type Kernel, listTurns } from './passFour.ts';
