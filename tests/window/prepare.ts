import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { buildWindow } from '../../host/buildWindow.ts';
import { makeSamples } from '../../samples/make.ts';
import { findBrowser } from './findBrowser.ts';
import { makeWorkspace } from './makeWorkspace.ts';

/** Poles of the tests: a plain one, one with mode 1 missing, one with faulty blows only, one thin shell, one left. */
const POLES = ['KV-0101', 'KV-0106', 'KV-0401', 'KV-0502', 'KV-0102'];
const NOT_ASSESSED = ['KV-0102'];

declare module 'vitest' {
  interface ProvidedContext {
    browser: string;
    samples: string;
    workspace: string;
  }
}

/** Builds the window, makes the samples and a workspace of some of them, and finds a browser; once for all tests. */
export default async function prepare(project: TestProject): Promise<() => void> {
  const browser = findBrowser();
  await buildWindow();
  const folder = mkdtempSync(join(tmpdir(), 'stemroot-window-'));
  const remove = () => rmSync(folder, { recursive: true, force: true });
  const workspace = join(folder, 'place.stemroot');
  try {
    makeSamples(folder);
    await makeWorkspace(workspace, join(folder, 'visits'), POLES, NOT_ASSESSED);
  } catch (error) {
    remove();
    throw error;
  }
  project.provide('browser', browser);
  project.provide('samples', join(folder, 'visits'));
  project.provide('workspace', workspace);
  return remove;
}
