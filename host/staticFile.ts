import { readFile, realpath } from 'node:fs/promises';
import { extname, join, sep } from 'node:path';

/** The kinds of file that the build of the window makes; no other kind is served. */
const CONTENT_TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
};

export type StaticFile = { contentType: string; bytes: Buffer };

/**
 * Reads a file of the window by the path of its address.
 * @param folder - the only folder that is served
 * @param pathname - path of the address, percent-encoded, from its leading slash; `/` is index.html
 * @returns null for whatever is not a file of a known kind within the folder, links that lead out of it included
 */
export async function readStaticFile(folder: string, pathname: string): Promise<StaticFile | null> {
  let path: string;
  try {
    path = decodeURIComponent(pathname === '/' ? '/index.html' : pathname);
  } catch {
    return null;
  }
  const parts = path.split('/').slice(1);
  if (
    !path.startsWith('/') ||
    parts.some((part) => part === '' || part.startsWith('.') || /[\\:\0]/.test(part))
  ) {
    return null;
  }
  const contentType = CONTENT_TYPES[extname(path)];
  if (contentType === undefined) return null;
  try {
    const root = await realpath(folder);
    const file = await realpath(join(root, ...parts));
    if (!file.startsWith(root + sep)) return null;
    return { contentType, bytes: await readFile(file) };
  } catch {
    return null;
  }
}
