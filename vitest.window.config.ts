import { defineConfig } from 'vitest/config';

/** Tests of the built window in a real browser; one browser at a time, for small machines. */
export default defineConfig({
  test: {
    include: ['tests/window/**/*.test.ts'],
    globalSetup: ['tests/window/prepare.ts'],
    fileParallelism: false,
    expect: { poll: { timeout: 20_000 } },
    testTimeout: 60_000,
    hookTimeout: 120_000,
    reporters: ['default'],
  },
});
