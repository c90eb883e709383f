/** Threads that share the work: as many as there are processors, each started when there is something for it to do. */
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';

/** Does tasks, several at a time. */
export interface Pool<Task> {
  /**
   * Rejects where the task failed by a bug of ours. Tasks of one `home` go to one thread where it is free, so that it uses again what it
   * made for the last: a plan's boards are shaped for its proof, its drawings and its models.
   */
  readonly run: (task: Task, home?: string) => Promise<unknown>;
  /** Starts the threads before there is a task, each to load what tasks need: for a run that will need them all. */
  readonly ahead: () => void;
  /** Ends the threads; tasks that are not done are dropped. */
  readonly close: () => Promise<void>;
}

/** More than this gain little: each loads the libraries for itself. */
const MOST_THREADS = 6;

interface Order<Task> {
  readonly task: Task;
  readonly home: string | undefined;
  readonly resolve: (done: unknown) => void;
  readonly reject: (error: unknown) => void;
}

/** A pool that does everything in this thread, one after the other. */
export function localPool<Task>(perform: (task: Task) => Promise<unknown>): Pool<Task> {
  let last: Promise<unknown> = Promise.resolve();
  return {
    run: (task) => {
      const done = last.then(() => perform(task));
      last = done.catch(() => {});
      return done;
    },
    ahead: () => {},
    close: async () => {},
  };
}

/** What a thread is told that is started before there is a task for it. */
export const AHEAD = 'ahead';

/**
 * A pool of threads that run the module `file`, which answers each message with `{ done }` or `{ failed }`. Those started ahead find
 * `AHEAD` as their `workerData`.
 */
export function threadPool<Task>(file: URL): Pool<Task> {
  const most = Math.min(availableParallelism(), MOST_THREADS);
  const waiting: Order<Task>[] = [];
  const idle: Worker[] = [];
  const all = new Set<Worker>();
  /** The thread that last worked for a home. */
  const homes = new Map<string, Worker>();

  const isAt = (worker: Worker, { home }: Order<Task>): boolean =>
    home !== undefined && homes.get(home) === worker;
  /** What a thread does next: what it has made something for, else what no other has, else the first that waits. */
  const nextFor = (worker: Worker): Order<Task> | undefined => {
    const own = waiting.findIndex((order) => isAt(worker, order));
    const free = waiting.findIndex(({ home }) => home === undefined || !homes.has(home));
    return waiting.splice(own >= 0 ? own : Math.max(free, 0), 1)[0];
  };
  const give = (worker: Worker, order: Order<Task>): void => {
    if (order.home !== undefined) homes.set(order.home, worker);
    worker.ref();
    worker.removeAllListeners('exit');
    worker.removeAllListeners('error');
    const settle = (): void => {
      for (const event of ['message', 'error', 'exit']) worker.removeAllListeners(event);
    };
    const died = (why: unknown): void => {
      forget(worker);
      settle();
      order.reject(why instanceof Error ? why : new Error(`a thread ended with code ${String(why)}`));
      const next = waiting.shift();
      if (next !== undefined) give(start(), next);
    };
    worker.once('message', (answer: { done?: unknown; failed?: string }) => {
      settle();
      if (answer.failed === undefined) order.resolve(answer.done);
      else order.reject(new Error(answer.failed));
      const next = nextFor(worker);
      if (next !== undefined) return give(worker, next);
      rest(worker);
    });
    worker.once('error', died);
    worker.once('exit', died);
    worker.postMessage(order.task);
  };
  const forget = (worker: Worker): void => {
    all.delete(worker);
    for (const [home, at] of homes) if (at === worker) homes.delete(home);
  };
  const start = (told?: typeof AHEAD): Worker => {
    const worker = new Worker(file, { workerData: told });
    all.add(worker);
    return worker;
  };
  /** A thread that has nothing to do doesn't keep the program from ending. */
  const rest = (worker: Worker): void => {
    const gone = (): void => {
      forget(worker);
      const at = idle.indexOf(worker);
      if (at >= 0) idle.splice(at, 1);
    };
    worker.unref();
    worker.once('exit', gone);
    // One that dies while it loads is started again when there is a task, which then says what is wrong.
    worker.once('error', gone);
    idle.push(worker);
  };

  return {
    run: (task, home) =>
      new Promise((resolve, reject) => {
        const order = { task, home, resolve, reject };
        const near = idle.findIndex((one) => isAt(one, order));
        const [worker] = idle.splice(near >= 0 ? near : -1, 1);
        if (worker !== undefined) give(worker, order);
        else if (all.size < most) give(start(), order);
        else waiting.push(order);
      }),
    ahead: () => {
      while (all.size < most) rest(start(AHEAD));
    },
    close: async () => {
      waiting.length = 0;
      for (const worker of all) worker.removeAllListeners('exit');
      await Promise.all([...all].map((worker) => worker.terminate()));
      all.clear();
      homes.clear();
    },
  };
}
