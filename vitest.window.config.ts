import { defineConfig } from 'vitest/config';

/** Tests of the built window in a real browser; two browsers at a time, since each waits for the other side most of the time. */
export default defineConfig({
  test: {
    include: ['tests/window/**/*.test.ts'],
    globalSetup: ['tests/window/prepare.ts'],
    maxWorkers: 2,
    expect: { poll: { timeout: 20_000 } },
    testTimeout: 60_000,
    hookTimeout: 120_000,
    reporters: ['default'],
  },
});
