#!/usr/bin/env node
/** The program as it is started from a shell: hands `main` the arguments and the two streams, and ends with its code. */
import { setFlagsFromString } from 'node:v8';
import { run } from './main.ts';

// A run is short, and its threads share few processors with the engine's own, which turn code into faster code: with the usual budget
// they do so for much that hardly runs again, and publishing takes about a fifth longer. It changes when code is optimised, never what
// it computes. Only where it was measured: an engine that doesn't know the flag would complain on the terminal.
if (process.versions.node.startsWith('20.')) setFlagsFromString('--interrupt-budget=1000000');

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
