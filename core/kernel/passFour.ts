import { reserve } from './memory.ts';
import { PASS_FOUR_BASE64 } from './passFourBytes.ts';

/** Complex values in the kernel's memory: parts in arrays of their own, with their addresses. */
interface ComplexArray {
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly reAddress: number;
  readonly imAddress: number;
}

/** All passes of four that follow a first pass. */
interface Passes {
  /** Takes what the first pass makes. */
  readonly input: ComplexArray;
  /** The result is a view. */
  run(): ComplexArray;
}

/**
 * Prepares the passes over `points` values that hold sub-transforms of `length` values (a power of four) at an even
 * stride. All of one kernel share their memory, so a result is to be read before the next run.
 */
export type Kernel = (points: number, length: number) => Passes;

type PassFour = (
  xRe: number,
  xIm: number,
  yRe: number,
  yIm: number,
  m: number,
  s: number,
  turns: number,
) => void;

const VALUE_BYTES = Float64Array.BYTES_PER_ELEMENT;
/**
 * Arrays that lie a power of two apart fall on the same lines of the processor's cache; this much between them
 * halves the time of a long transform.
 */
const PADDING_BYTES = 17 * 64;

let compiled: WebAssembly.Module | null = null;

/** Instantiates the kernel of `passFour.wat`, with memory that grows with the transforms asked for. */
export function createKernel(): Kernel {
  compiled ??= new WebAssembly.Module(Buffer.from(PASS_FOUR_BASE64, 'base64'));
  const { exports } = new WebAssembly.Instance(compiled);
  const memory = exports.memory as WebAssembly.Memory;
  const passFour = exports.passFour as PassFour;
  const turnTables = new Map<number, number>();
  const kept = new Map<number, Passes>();
  let top = 0;
  let scratch = { address: 0, points: 0 };

  function allocate(bytes: number): number {
    const address = top;
    top += bytes;
    if (reserve(memory, top)) kept.clear();
    return address;
  }

  /** Address of cos and sin of -2 pi j p / length for j from 1 to 3, p below a quarter of the length. */
  function takeTurns(length: number): number {
    const there = turnTables.get(length);
    if (there !== undefined) return there;
    const count = 6 * (length / 4);
    const address = allocate(count * VALUE_BYTES);
    new Float64Array(memory.buffer, address, count).set(listTurns(length));
    turnTables.set(length, address);
    return address;
  }

  function viewArray(address: number, points: number): ComplexArray {
    const imAddress = address + points * VALUE_BYTES + PADDING_BYTES;
    return {
      re: new Float64Array(memory.buffer, address, points),
      im: new Float64Array(memory.buffer, imAddress, points),
      reAddress: address,
      imAddress,
    };
  }

  return (points, length) => {
    const there = kept.get(points);
    if (there !== undefined) return there;
    const arrayBytes = 2 * (points * VALUE_BYTES + PADDING_BYTES);
    if (points > scratch.points) scratch = { address: allocate(2 * arrayBytes), points };
    const steps: { m: number; stride: number; turns: number }[] = [];
    for (let left = length; left >= 4; left /= 4)
      steps.push({ m: left / 4, stride: points / left, turns: takeTurns(left) });
    const input = viewArray(scratch.address, points);
    const other = viewArray(scratch.address + arrayBytes, points);
    const fresh: Passes = {
      input,
      run() {
        let from = input;
        let to = other;
        for (const { m, stride, turns } of steps) {
          passFour(from.reAddress, from.imAddress, to.reAddress, to.imAddress, m, stride, turns);
          [from, to] = [to, from];
        }
        return from;
      },
    };
    kept.set(points, fresh);
    return fresh;
  };
}

/** cos and sin of -2 pi j p / length for j from 1 to 3, for each p below a quarter of the length. */
export function listTurns(length: number): Float64Array {
  const turns = new Float64Array(6 * (length / 4));
  for (let p = 0, at = 0; p < length / 4; p++) {
    const angle = (-2 * Math.PI * p) / length;
    const cos = Math.cos(angle);
    const sin = Math.sin(angle);
    const cosTwice = cos * cos - sin * sin;
    const sinTwice = 2 * cos * sin;
    turns[at++] = cos;
    turns[at++] = sin;
    turns[at++] = cosTwice;
    turns[at++] = sinTwice;
    turns[at++] = cosTwice * cos - sinTwice * sin;
    turns[at++] = cosTwice * sin + sinTwice * cos;
  }
  return turns;
}
