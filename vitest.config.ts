import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/window/**'],
    globalSetup: ['tests/team/globalSetup.ts'],
    testTimeout: 60_000,
    reporters: ['default'],
  },
});
