import type { World } from './world.ts';

/** Longest a run holds up messages, in milliseconds. */
const sliceMs = 5;

/** Thrown where work is given up because nobody waits for its result any more (invariant 10). */
export class Cancelled extends Error {}

/** Runs a generator to its end, with a pause for messages after every slice. Throws `Cancelled` once `isStale` says so. */
export async function runInSlices<Result>(
  run: Generator<undefined, Result>,
  world: World,
  isStale: () => boolean,
): Promise<Result> {
  for (;;) {
    if (isStale()) throw new Cancelled();
    const startedMs = world.nowMs();
    do {
      const step = run.next();
      if (step.done) return step.value;
    } while (world.nowMs() - startedMs < sliceMs);
    await world.pause(0);
  }
}
