import { defineConfig } from 'vitest/config';

/** Two projects: `unit` needs Node alone; `browser` starts the built server and drives Chromium. */
export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    projects: [
      {
        test: {
          name: 'unit',
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: ['tests/browser/**', 'node_modules/**'],
          setupFiles: ['tests/support/seedProperties.ts'],
          testTimeout: 60_000,
        },
      },
      {
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          testTimeout: 90_000,
          hookTimeout: 60_000,
          fileParallelism: false,
        },
      },
    ],
  },
});
