import { parentPort } from 'node:worker_threads';
import { loadBatch, packBatch, type Work } from './host/disk/load-batch.ts';

parentPort?.on('message', (work: Work) => {
  parentPort?.postMessage(packBatch(loadBatch(work)));
});
