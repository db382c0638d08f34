import type { RandomStream } from '../../samples/random.ts';

/** Sizes and counts on which readers are known to stumble. */
const TELLING_NUMBERS = [
  0, 1, 2, 3, 7, 8, 16, 255, 256, 0x7fff, 0x8000, 0xffff, 0x10000, 0x7fffffff, 0x80000000, 0xfffffffe,
  0xffffffff,
];
/** Headers lie at the start of a file; half of the changes go there. */
const HEAD_BYTES = 256;
/** One change tells most; some together reach what one is refused for. */
const CHANGES = [1, 1, 1, 2, 3, 6];

type Mutation = (bytes: Buffer, random: RandomStream) => Buffer;

const mutations: readonly Mutation[] = [
  // one bit
  (bytes, random) => {
    const at = place(bytes, random);
    bytes[at] = bytes[at]! ^ (1 << Math.floor(random.between(0, 8)));
    return bytes;
  },
  // a number of two or four bytes, either end first
  (bytes, random) => {
    const width = pick([2, 4] as const, random);
    const at = place(bytes, random);
    if (at + width > bytes.length) return bytes;
    const value = pick([...TELLING_NUMBERS, bytes.length, 2 * bytes.length], random) % 2 ** (8 * width);
    if (random.between(0, 1) < 0.5) bytes.writeUIntLE(value, at, width);
    else bytes.writeUIntBE(value, at, width);
    return bytes;
  },
  // a run of the same byte
  (bytes, random) => {
    const at = place(bytes, random);
    const end = Math.min(bytes.length, at + Math.floor(random.between(1, 64)));
    bytes.fill(pick([0, 0xff, 0x7f, 0x80, 0x20, 0x41], random), at, end);
    return bytes;
  },
  // cut short
  (bytes, random) => bytes.subarray(0, place(bytes, random)),
  // a piece left out
  (bytes, random) => {
    const at = place(bytes, random);
    return Buffer.concat([bytes.subarray(0, at), bytes.subarray(at + Math.floor(random.between(1, 200)))]);
  },
  // a piece told twice
  (bytes, random) => {
    const at = place(bytes, random);
    const end = Math.min(bytes.length, at + Math.floor(random.between(1, 200)));
    return Buffer.concat([bytes.subarray(0, end), bytes.subarray(at, end), bytes.subarray(end)]);
  },
  // noise put in
  (bytes, random) => {
    const at = place(bytes, random);
    const noise = Buffer.from(
      Array.from({ length: Math.floor(random.between(1, 40)) }, () => random.between(0, 256)),
    );
    return Buffer.concat([bytes.subarray(0, at), noise, bytes.subarray(at)]);
  },
];

/** Some changes to a copy of bytes, at random. */
export function mutateBytes(original: Uint8Array, random: RandomStream): Buffer {
  let bytes: Buffer = Buffer.from(original);
  const changes = pick(CHANGES, random);
  for (let i = 0; i < changes && bytes.length > 0; i++) bytes = pick(mutations, random)(bytes, random);
  return bytes;
}

export function pick<T>(values: readonly T[], random: RandomStream): T {
  return values[Math.floor(random.between(0, values.length))]!;
}

function place(bytes: Uint8Array, random: RandomStream): number {
  const end = random.between(0, 1) < 0.5 ? Math.min(HEAD_BYTES, bytes.length) : bytes.length;
  return Math.floor(random.between(0, end));
}
