import { defineConfig } from 'vitest/config';
import { SETTINGS } from './src/warm-up.ts';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    pool: 'forks',
    // As the program runs; a file of tests is as short a run.
    execArgv: [...SETTINGS],
  },
});
