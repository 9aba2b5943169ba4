import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    globalSetup: ['test/harness/build-once.ts'],
    // Property and command-line tests start processes and run thousands of cases; nothing here measures time.
    testTimeout: 400_000,
    pool: 'forks',
  },
});
