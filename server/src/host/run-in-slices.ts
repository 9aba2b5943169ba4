/** Longest a run holds up messages, in milliseconds. */
const sliceMs = 5;

/** Thrown where work is given up because nobody waits for its result any more (invariant 10). */
export class Cancelled extends Error {}

/** What long work is divided by. */
export interface Pauses {
  /** Milliseconds since some moment; never goes back. */
  nowMs(): number;
  /** Resolves after at least so long, and never before messages that have arrived are dealt with. */
  pause(ms: number): Promise<void>;
}

/** Runs a generator to its end, with a pause for messages after every slice. Throws `Cancelled` once `isStale` says so. */
export async function runInSlices<Result>(
  run: Generator<undefined, Result>,
  pauses: Pauses,
  isStale: () => boolean,
): Promise<Result> {
  for (;;) {
    if (isStale()) throw new Cancelled();
    const startedMs = pauses.nowMs();
    do {
      const step = run.next();
      if (step.done) return step.value;
    } while (pauses.nowMs() - startedMs < sliceMs);
    await pauses.pause(0);
  }
}
