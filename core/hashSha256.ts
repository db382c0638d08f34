import { createHash } from 'node:crypto';

/** SHA-256 of bytes or UTF-8 text, as 64 hexadecimal digits. */
export function hashSha256(content: Uint8Array | string): string {
  return createHash('sha256').update(content).digest('hex');
}
