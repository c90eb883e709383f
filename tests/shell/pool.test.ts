import { writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { AHEAD, localPool, threadPool } from '../../src/shell/pool.ts';
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
    expect(await Promise.all(numbers.map((number) => threads.run(number)))).toEqual(
      numbers.map((number) => number * 2),
    );
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

/** A thread that says which it is, after as many milliseconds as it is sent. */
const NAMED = `
import { parentPort, threadId } from 'node:worker_threads';
parentPort.on('message', (ms) => setTimeout(() => parentPort.postMessage({ done: threadId }), ms));
`;

describe('homes', () => {
  const named = () => {
    const file = join(temporaryFolder(), 'thread.mjs');
    writeFileSync(file, NAMED);
    return threadPool<number>(pathToFileURL(file));
  };

  it('are kept where threads are free, and where orders wait', async () => {
    const threads = named();
    const first = await Promise.all([threads.run(20, 'bench'), threads.run(20, 'stool')]);
    const again = await Promise.all([threads.run(0, 'stool'), threads.run(0, 'bench')]);
    expect(again).toEqual([first[1], first[0]]);
    // Six orders for two homes, more than most machines have threads: those that wait find their way too.
    const turns = ['bench', 'stool', 'bench', 'stool', 'bench', 'stool'];
    const many = await Promise.all(turns.map((home) => threads.run(10, home)));
    if (first[0] !== first[1] && availableParallelism() === 2)
      // Whoever is done first helps with the last ones, two at most.
      expect(
        many.filter((thread, turn) => thread === first[turns[turn] === 'bench' ? 0 : 1]).length,
      ).toBeGreaterThanOrEqual(4);
    // A home never holds work up: one with many orders is helped by whoever is free.
    const one = await Promise.all(Array.from({ length: 8 }, () => threads.run(10, 'bench')));
    if (availableParallelism() > 1) expect(new Set(one).size).toBeGreaterThan(1);
    await threads.close();
  });
});

describe('threads started ahead', () => {
  it('are told so, and are the ones that then do the tasks', async () => {
    const file = join(temporaryFolder(), 'thread.mjs');
    writeFileSync(
      file,
      `import { parentPort, workerData } from 'node:worker_threads';
       parentPort.on('message', () => parentPort.postMessage({ done: workerData ?? 'when needed' }));`,
    );
    const threads = threadPool<number>(pathToFileURL(file));
    threads.ahead();
    expect(new Set(await Promise.all([1, 2, 3, 4].map((task) => threads.run(task))))).toEqual(
      new Set([AHEAD]),
    );
    await threads.close();
    const later = threadPool<number>(pathToFileURL(file));
    expect(await later.run(1)).toBe('when needed');
    await later.close();
  });

  it('may end before there is a task: another is started for it', async () => {
    const file = join(temporaryFolder(), 'thread.mjs');
    writeFileSync(
      file,
      `import { parentPort, workerData } from 'node:worker_threads';
       if (workerData !== undefined) throw new Error('not loaded');
       parentPort.on('message', (number) => parentPort.postMessage({ done: number }));`,
    );
    const threads = threadPool<number>(pathToFileURL(file));
    threads.ahead();
    // There are at most six of them: so many tasks may fail with the reason, and all others are done.
    const all = await Promise.allSettled(Array.from({ length: 12 }, (_, number) => threads.run(number)));
    for (const one of all) if (one.status === 'rejected') expect(String(one.reason)).toContain('not loaded');
    expect(all.filter(({ status }) => status === 'fulfilled').length).toBeGreaterThanOrEqual(6);
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
    const results = await Promise.allSettled([1, 2, 3].map((number) => here.run(number)));
    expect(order).toEqual([1, 2, 3]);
    expect(results.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled']);
  });
});
