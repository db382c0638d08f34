import { expect, test } from 'vitest';
import { giveBackMemory } from '../../core/giveBackMemory.ts';

test('leaves nothing of values that have their memory to themselves', () => {
  const values = Float64Array.of(1, 2, 3);
  giveBackMemory(values);
  expect(values.length).toBe(0);
});

test('touches nothing of values that share their memory', () => {
  const all = Uint8Array.of(1, 2, 3, 4);
  giveBackMemory(all.subarray(1, 3));
  expect([...all]).toEqual([1, 2, 3, 4]);
});

test('takes values twice, and none', () => {
  const values = new Float32Array(4);
  giveBackMemory(values);
  giveBackMemory(values);
  giveBackMemory(new Uint8Array());
  expect(values.length).toBe(0);
});
