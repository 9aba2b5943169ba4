import { parentPort } from 'node:worker_threads';
import { loadPacked, type Work } from './host/disk/load-batch.ts';

parentPort?.on('message', (work: Work) => {
  parentPort?.postMessage(loadPacked(work));
});
