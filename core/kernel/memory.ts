const PAGE_BYTES = 65_536;

/** A kernel of its text compiled, with the memory that it works on. */
export function instantiate(base64: string): {
  readonly memory: WebAssembly.Memory;
  readonly exports: WebAssembly.Instance['exports'];
} {
  const { exports } = new WebAssembly.Instance(new WebAssembly.Module(Buffer.from(base64, 'base64')));
  return { memory: exports.memory as WebAssembly.Memory, exports };
}

/** Has a memory hold so many bytes at least. @returns whether it grew, which leaves all views of it empty */
export function reserve(memory: WebAssembly.Memory, bytes: number): boolean {
  const lacking = bytes - memory.buffer.byteLength;
  if (lacking <= 0) return false;
  memory.grow(Math.ceil(lacking / PAGE_BYTES));
  return true;
}
