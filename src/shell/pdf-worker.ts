/** A thread that compiles the documents it is sent, one after the other: see pdfs.ts. */
import { parentPort, workerData } from 'node:worker_threads';
import { loadTypst } from '../publish/typst.ts';

const typst = loadTypst(workerData as Uint8Array[]);

parentPort?.on('message', async (job: { main: string; files: ReadonlyMap<string, Uint8Array | string> }) => {
  const result = (await typst).compile(job.main, job.files);
  parentPort?.postMessage(result);
});
