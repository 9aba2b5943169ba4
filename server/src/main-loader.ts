import { parentPort, workerData } from 'node:worker_threads';
import { loadBatch, packBatch } from './host/load-batch.ts';

parentPort?.on('message', (paths: readonly string[]) => {
  parentPort?.postMessage(packBatch(loadBatch(workerData as string, paths)));
});
