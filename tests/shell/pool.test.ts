import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { localPool, threadPool } from '../../src/shell/pool.ts';
import { temporaryFolder } from '../support/run.ts';

/** A thread that doubles numbers, fails on odd ones as a bug would, and dies on 13. */
const MODULE = `
import { parentPort } from 'node:worker_threads';
parentPort.on('message', (number) => {
  if (number === 13) process.exit(1);
  parentPort.postMessage(number % 2 === 1 ? { failed: 'odd ' + number } : { done: number * 2 });
});
`;

const pool = () => {
  const file = join(temporaryFolder(), 'thread.mjs');
  writeFileSync(file, MODULE);
  return threadPool<number>(pathToFileURL(file));
};

describe('threads', () => {
  it('do more tasks than there are threads, and answer each with its own result', async () => {
    const threads = pool();
    const numbers = Array.from({ length: 40 }, (_, index) => index * 2);
    expect(await Promise.all(numbers.map(threads.run))).toEqual(numbers.map((number) => number * 2));
    await threads.close();
  });

  it('hand on what failed, and go on', async () => {
    const threads = pool();
    await expect(threads.run(3)).rejects.toThrow('odd 3');
    expect(await threads.run(4)).toBe(8);
    await threads.close();
  });

  it('say that a thread has died, and start another', async () => {
    const threads = pool();
    await expect(threads.run(13)).rejects.toThrow();
    expect(await threads.run(4)).toBe(8);
    await threads.close();
  });
});

describe('one thread', () => {
  it('does one task after the other, past one that fails', async () => {
    const order: number[] = [];
    const here = localPool(async (number: number) => {
      await new Promise((done) => setTimeout(done, 10 - number));
      order.push(number);
      if (number === 2) throw new Error('two');
      return number;
    });
    const results = await Promise.allSettled([1, 2, 3].map(here.run));
    expect(order).toEqual([1, 2, 3]);
    expect(results.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled']);
  });
});
