import { performance } from 'node:perf_hooks';
import { setImmediate } from 'node:timers/promises';
import { type Pauses, runInSlices } from '../run-in-slices.ts';

const pauses: Pauses = { nowMs: () => performance.now(), pause: () => setImmediate() };

/** Runs long work to its end, with pauses in which a server can answer. */
export function inSlices<Result>(work: Generator<undefined, Result>): Promise<Result> {
  return runInSlices(work, pauses, () => false);
}
