/** Builds WAV files by hand, sound or spoiled, for the tests of the reader. */
export interface Chunk {
  readonly id: string;
  readonly bytes: Uint8Array;
  /** Size written into the header; the true one where absent. */
  readonly statedBytes?: number;
  /** False: an odd chunk gets no pad byte, against the standard. */
  readonly padded?: boolean;
}

export interface Format {
  readonly tag?: number;
  readonly channelCount?: number;
  readonly sampleRateHz?: number;
  readonly bits?: number;
  readonly blockBytes?: number;
  /** Present: an EXTENSIBLE header of PCM with an extension this long. */
  readonly extensionBytes?: number;
  readonly validBits?: number;
}

export function plainFormat(format: Format): Chunk {
  const { channelCount = 1, sampleRateHz = 2000, bits = 16, extensionBytes } = format;
  const blockBytes = format.blockBytes ?? (channelCount * Math.ceil(bits / 8)) % 65536;
  const bytes = new Uint8Array(extensionBytes === undefined ? 16 : 18 + extensionBytes);
  const view = new DataView(bytes.buffer);
  view.setUint16(0, extensionBytes === undefined ? (format.tag ?? 1) : 0xfffe, true);
  view.setUint16(2, channelCount, true);
  view.setUint32(4, sampleRateHz, true);
  view.setUint32(8, sampleRateHz * blockBytes, true);
  view.setUint16(12, blockBytes, true);
  view.setUint16(14, bits, true);
  if (extensionBytes !== undefined) {
    view.setUint16(16, extensionBytes, true);
    view.setUint16(18, format.validBits ?? bits, true);
    view.setUint16(24, format.tag ?? 1, true);
  }
  return { id: 'fmt ', bytes };
}

/** The chunk of 64-bit sizes that opens RF64 and BW64 files (EBU Tech 3306); `others` fills its table. */
export function makeDs64(
  dataBytes: number,
  others: readonly { readonly id: string; readonly size: number }[] = [],
): Chunk {
  const bytes = new Uint8Array(28 + 12 * others.length);
  const view = new DataView(bytes.buffer);
  view.setBigUint64(0, BigInt(dataBytes + 72), true);
  view.setBigUint64(8, BigInt(dataBytes), true);
  view.setUint32(24, others.length, true);
  others.forEach(({ id, size }, i) => {
    bytes.set(writeText(id), 28 + 12 * i);
    view.setBigUint64(32 + 12 * i, BigInt(size), true);
  });
  return { id: 'ds64', bytes };
}

export function pcm16(values: readonly number[]): Uint8Array {
  return new Uint8Array(Int16Array.from(values).buffer);
}

export function makeWav(
  chunks: readonly Chunk[],
  head: { readonly riffBytes?: number; readonly container?: string; readonly form?: string } = {},
): Uint8Array {
  const parts: Uint8Array[] = [];
  for (const { id, bytes, statedBytes = bytes.length, padded = true } of chunks) {
    parts.push(writeText(id), writeSize(statedBytes), bytes);
    if (padded && bytes.length % 2 === 1) parts.push(new Uint8Array(1));
  }
  const length = parts.reduce((sum, part) => sum + part.length, 4);
  const { container = 'RIFF', form = 'WAVE', riffBytes = length } = head;
  return Buffer.concat([writeText(container), writeSize(riffBytes), writeText(form), ...parts]);
}

function writeText(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

function writeSize(value: number): Uint8Array {
  const bytes = new Uint8Array(4);
  new DataView(bytes.buffer).setUint32(0, value, true);
  return bytes;
}
