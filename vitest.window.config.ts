import { defineConfig } from 'vitest/config';

/** Tests of the built window in a real browser, one at a time: each uses two cores, and two side by side took longer. */
export default defineConfig({
  test: {
    include: ['tests/window/**/*.test.ts'],
    globalSetup: ['tests/window/prepare.ts'],
    fileParallelism: false,
    expect: { poll: { timeout: 20_000 } },
    // axe goes through some thousand elements twice in a test, on a machine that may be busy
    testTimeout: 120_000,
    hookTimeout: 120_000,
    reporters: ['default'],
  },
});
