#!/usr/bin/env node
/** The program as it is started from a shell: hands `main` the arguments and the two streams, and ends with its code. */
import './warm-up.ts';
import { run } from './main.ts';

// A reader that has seen enough (`kerfleaf figures nest-box | head`) closes the pipe: that is no fault.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(0);
  throw error;
});

process.exitCode = await run(process.argv.slice(2), {
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
  live: process.stderr.isTTY === true,
  columns: process.stderr.columns ?? 80,
  interrupted: new Promise((resolve) => {
    process.once('SIGINT', () => resolve());
    process.once('SIGTERM', () => resolve());
  }),
});
