/** A thread of the pool: does the tasks it is sent, one after the other, and sends back what came of each. */
import { parentPort, workerData } from 'node:worker_threads';
import { AHEAD } from './shell/pool.ts';
import { loadAll, perform, type Task } from './tasks.ts';

parentPort?.on('message', async (task: Task) => {
  try {
    parentPort?.postMessage({ done: await perform(task) });
  } catch (error) {
    // Tasks don't throw on what an author wrote: this is a bug of ours, and reported with where it happened.
    parentPort?.postMessage({
      failed: error instanceof Error ? (error.stack ?? error.message) : String(error),
    });
  }
});

// A library that can't be loaded is missed again, and reported, by the first task that needs it.
if (workerData === AHEAD) loadAll().catch(() => {});
