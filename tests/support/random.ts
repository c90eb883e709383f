/**
 * Random cases, the same in each run of the tests: a commit passes or fails, whatever the day. Hunts for cases that nobody has
 * seen yet are `npm run hunt`: other cases each time, more of them, and what they find is written down as a test of its own.
 *
 * KERFLEAF_SEED takes a number, to see again what a hunt found, or `any`.
 */
import fc from 'fast-check';

const { KERFLEAF_SEED } = process.env;

export const SEED = KERFLEAF_SEED === 'any' ? Date.now() % 2 ** 31 : Number(KERFLEAF_SEED ?? 20_261_125);

fc.configureGlobal({ seed: SEED });

export { fc };
