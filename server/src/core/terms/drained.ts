/** What long work comes to, where nobody waits for anything else meanwhile (invariant 10). */
export function drained<Result>(work: Generator<unknown, Result>): Result {
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
  }
}
