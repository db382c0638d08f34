const LINE_FEED = 10;
const RETURN = 13;

/**
 * Walks through a universal file line by line, and over binary stretches by their length. Bytes are taken as
 * Latin-1, one character each, so that whatever a writer put into a label comes back unchanged.
 */
export interface UffLines {
  /** The next line without its end, or null at the end of the file. */
  next(): string | null;
  /** The next `count` bytes, or fewer at the end of the file. */
  takeBytes(count: number): Uint8Array;
  /** Number of the line last read, from 1; binary stretches do not count. */
  lineNumber(): number;
  bytesLeft(): number;
}

export function createUffLines(bytes: Uint8Array): UffLines {
  const decoder = new TextDecoder('latin1');
  let at = 0;
  let line = 0;
  return {
    next() {
      if (at >= bytes.length) return null;
      let end = bytes.indexOf(LINE_FEED, at);
      if (end < 0) end = bytes.length;
      const hasReturn = end > at && bytes[end - 1] === RETURN;
      const text = decoder.decode(bytes.subarray(at, hasReturn ? end - 1 : end));
      at = end + 1;
      line++;
      return text;
    },
    takeBytes(count) {
      const taken = bytes.subarray(at, at + count);
      at += taken.length;
      return taken;
    },
    lineNumber: () => line,
    bytesLeft: () => Math.max(0, bytes.length - at),
  };
}
