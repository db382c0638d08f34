/**
 * Gives the memory of values that nobody reads any more back at once; they are empty afterwards. Left to a later collection, what
 * is read next would lie in pages that the system has to hand out anew, which takes longer than to decode into them. What shares its
 * memory with others keeps it.
 */
export function giveBackMemory({ buffer, byteLength }: Uint8Array | Float64Array | Float32Array): void {
  const isWhole = byteLength > 0 && byteLength === buffer.byteLength;
  if (isWhole && buffer instanceof ArrayBuffer) buffer.transfer(0);
}
