/**
 * How much the engine does to make code faster before it runs. A run of a few seconds runs most functions a few times: making fast code
 * of them took a third of a run's processor time (measured: 16.8 s for a cold run of two plans, 12.3 s with these settings).
 * What runs long (a solver's search, a preview that stays open) is still made fast. Later engines (Node 22 and 24) are as sparing by
 * themselves and call some of these settings otherwise. No result depends on them.
 */
import { setFlagsFromString } from 'node:v8';

/** Version of the engine that is sparing by itself; Node 20 has an earlier one. */
const SPARING_FROM = 12;

/** The settings that this engine needs. */
export const SETTINGS: readonly string[] =
  Number(process.versions.v8.split('.')[0]) < SPARING_FROM
    ? [
        // Bytecodes that a function runs before fast code is made of it; the engine's own is 132 kB.
        '--interrupt-budget=1000000',
        // Functions of the solver and of the kernel of solids are compiled when first called, and made fast late.
        '--wasm-lazy-compilation',
        '--wasm-tiering-budget=100000000',
      ]
    : [];

for (const setting of SETTINGS) setFlagsFromString(setting);
