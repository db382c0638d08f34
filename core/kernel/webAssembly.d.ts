/** What is used here of the W3C's WebAssembly JavaScript interface: the types of Node leave it out, and the browser's have no place in core. */
declare namespace WebAssembly {
  class Module {
    constructor(bytes: Uint8Array);
  }
  class Instance {
    constructor(module: Module);
    readonly exports: Readonly<Record<string, unknown>>;
  }
  interface Memory {
    readonly buffer: ArrayBuffer;
    grow(pages: number): number;
  }
}
