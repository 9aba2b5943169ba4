import { availableParallelism } from 'node:os';
import { setImmediate } from 'node:timers/promises';
import { Worker } from 'node:worker_threads';
import { type Batch, loadBatch, type PackedBatch, packBatch, unpackBatch } from './load-batch.ts';

/** Files in a batch: enough that handing it over costs little, few enough that all threads end together. */
const batchSize = 128;

/** Files below which one thread is done before another has started. Source: measured, `npm run bench`. */
const threadsPayFrom = 2000;

/** Batches a thread has in hand, so that it need not wait while this one is busy. */
const inHand = 2;

/** A batch as loaded, and as text where it was packed anyway or is asked for. */
export type Take = (batch: Batch, packed: string | undefined) => void;

/** How files are loaded. */
export interface LoadOptions {
  /** Program of the threads, the bundle of `main-loader.ts`; without it all is done in this one. */
  readonly loader: string | undefined;
  /** Whether the packed text is wanted of every batch. */
  readonly isPacked: boolean;
}

/** Loads files, on all cores where there are many. Batches come in no particular order. */
export async function loadFiles(
  root: string,
  paths: readonly string[],
  options: LoadOptions,
  take: Take,
): Promise<void> {
  const queue = batchesOf(paths);
  const threads =
    paths.length < threadsPayFrom || options.loader === undefined ? 0 : Math.max(0, availableParallelism() - 1);
  const others = Array.from({ length: threads }, () => new Thread(root, options.loader ?? '', queue, take).done);
  await loadHere(root, queue, options, take);
  await Promise.all(others);
  // What a thread had in hand when it failed.
  await loadHere(root, queue, options, take);
}

async function loadHere(root: string, queue: string[][], { isPacked }: LoadOptions, take: Take): Promise<void> {
  for (let paths = queue.pop(); paths; paths = queue.pop()) {
    const batch = loadBatch(root, paths);
    take(batch, isPacked ? packBatch(batch).packed : undefined);
    // The other threads' batches come in between.
    await setImmediate();
  }
}

/** Another thread that loads batches until none is left. */
class Thread {
  /** Settles when it has ended; never rejects. What it could not load is back in the queue then. */
  readonly done: Promise<void>;
  private readonly worker: Worker;
  private readonly sent: string[][] = [];

  constructor(
    root: string,
    program: string,
    private readonly queue: string[][],
    take: Take,
  ) {
    this.worker = new Worker(program, { workerData: root });
    this.done = new Promise((resolve) => {
      this.worker.on('message', (packed: PackedBatch) => {
        this.sent.shift();
        take(unpackBatch(packed), packed.packed);
        this.send();
        if (this.sent.length === 0) void this.worker.terminate();
      });
      // A thread that cannot start or dies costs time only.
      this.worker.on('error', () => undefined);
      this.worker.on('exit', () => {
        this.queue.push(...this.sent.splice(0));
        resolve();
      });
    });
    this.send();
  }

  private send(): void {
    while (this.sent.length < inHand) {
      const paths = this.queue.pop();
      if (!paths) return;
      this.sent.push(paths);
      this.worker.postMessage(paths);
    }
  }
}

function batchesOf(paths: readonly string[]): string[][] {
  const batches: string[][] = [];
  for (let from = 0; from < paths.length; from += batchSize) batches.push(paths.slice(from, from + batchSize));
  return batches;
}
