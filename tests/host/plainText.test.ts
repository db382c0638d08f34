import { expect, it } from 'vitest';
import { plainText } from '../../host/plainText.ts';

// ECMA-48: control sequences begin with ESC (0x1b) or CSI (0x9b); BEL, BS, CR and DEL act by themselves
it.each([
  ['\u001b[2J\u001b]0;title\u0007', '\ufffd[2J\ufffd]0;title\ufffd'],
  ['\u009b31m', '\ufffd31m'],
  ['KV-1\rKV-2\b\u007f', 'KV-1\ufffdKV-2\ufffd\ufffd'],
])('gives a terminal no orders: %j', (text, shown) => {
  expect(plainText(text)).toBe(shown);
});

it('leaves words, lines and tabs', () => {
  expect(plainText('Größe: 1\n\t2')).toBe('Größe: 1\n\t2');
});
