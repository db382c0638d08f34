import type { IncomingMessage } from 'node:http';

/**
 * Reads the body of a request, or answers null as soon as it is longer than `limitBytes`; the connection stays
 * open then, so that a refusal can still be sent. Rejects where the sender hangs up or takes too long.
 */
export function readBody(request: IncomingMessage, limitBytes: number): Promise<Buffer | null> {
  if (Number(request.headers['content-length'] ?? 0) > limitBytes) return Promise.resolve(null);
  return new Promise((resolve, reject) => {
    const parts: Buffer[] = [];
    let length = 0;
    request.on('data', (part: Buffer) => {
      length += part.length;
      if (length <= limitBytes) {
        parts.push(part);
      } else {
        request.pause();
        resolve(null);
      }
    });
    request.on('end', () => resolve(Buffer.concat(parts)));
    request.on('error', reject);
    request.on('close', () => reject(new Error('The sender hung up.')));
  });
}
