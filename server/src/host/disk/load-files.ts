import { availableParallelism } from 'node:os';
import { setImmediate } from 'node:timers/promises';
import { Worker } from 'node:worker_threads';
import { inSlices } from './in-slices.ts';
import {
  type Batch,
  type HeldContent,
  loadBatch,
  type PackedBatch,
  packBatch,
  unpackBatch,
  type Work,
} from './load-batch.ts';

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
  const crew = new Crew(paths.length, options, take);
  for (let from = 0; from < paths.length; from += batchSize) {
    crew.add({ root, paths: paths.slice(from, from + batchSize) });
  }
  await crew.finish();
}

/** Loads contents that come one by one, about `count` of them, on all cores where there are many. */
export class ContentLoader {
  private readonly crew: Crew;
  private contents: HeldContent[] = [];

  constructor(count: number, options: LoadOptions, take: Take) {
    this.crew = new Crew(count, options, take);
  }

  /** Takes the next one. Other threads begin with it; this one is left free to hand over more. */
  add(content: HeldContent): void {
    this.contents.push(content);
    if (this.contents.length === batchSize) this.hand();
  }

  /** Settles when all are loaded. Nothing may be added afterwards. */
  finish(): Promise<void> {
    this.hand();
    return this.crew.finish();
  }

  private hand(): void {
    if (this.contents.length > 0) this.crew.add({ contents: this.contents });
    this.contents = [];
  }
}

/** The threads that load, and what there is to do for them. */
class Crew {
  private readonly queue: Work[] = [];
  private readonly threads: readonly Thread[];

  constructor(
    count: number,
    private readonly options: LoadOptions,
    private readonly take: Take,
  ) {
    const { loader } = options;
    const threads = count < threadsPayFrom || loader === undefined ? 0 : Math.max(0, availableParallelism() - 1);
    this.threads = Array.from({ length: threads }, () => new Thread(loader ?? '', this.queue, take));
  }

  add(work: Work): void {
    this.queue.push(work);
    for (const thread of this.threads) thread.send();
  }

  async finish(): Promise<void> {
    await this.loadHere();
    await Promise.all(this.threads.map((thread) => thread.finish()));
    // What a thread had in hand when it failed.
    await this.loadHere();
  }

  private async loadHere(): Promise<void> {
    for (let work = this.queue.pop(); work; work = this.queue.pop()) {
      const batch = await inSlices(loadBatch(work));
      if (this.options.isPacked) {
        const { files, packed } = packBatch(batch);
        const named = batch.files.map((file, position) => ({ ...file, ...files[position] }));
        this.take({ ...batch, files: named }, packed);
      } else this.take(batch, undefined);
      // The other threads' batches come in between.
      await setImmediate();
    }
  }
}

/** Another thread that loads batches. */
class Thread {
  private readonly worker: Worker;
  private readonly sent: Work[] = [];
  private readonly hasEnded: Promise<void>;
  private isGone = false;
  private isLast = false;

  constructor(
    program: string,
    private readonly queue: Work[],
    take: Take,
  ) {
    this.worker = new Worker(program);
    this.hasEnded = new Promise((resolve) => {
      this.worker.on('message', (packed: PackedBatch) => {
        this.sent.shift();
        take(unpackBatch(packed), packed.packed);
        this.send();
      });
      // A thread that cannot start or dies costs time only.
      this.worker.on('error', () => undefined);
      this.worker.on('exit', () => {
        this.isGone = true;
        this.queue.push(...this.sent.splice(0));
        resolve();
      });
    });
  }

  /** Gives it as much as it should have in hand. */
  send(): void {
    while (!this.isGone && this.sent.length < inHand) {
      const work = this.queue.pop();
      if (!work) break;
      this.sent.push(work);
      this.worker.postMessage(work);
    }
    if (this.isLast && this.sent.length === 0) void this.worker.terminate();
  }

  /** Settles when it has ended, which it does once nothing is left; never rejects. What it could not load is back in the queue then. */
  finish(): Promise<void> {
    this.isLast = true;
    this.send();
    return this.hasEnded;
  }
}
