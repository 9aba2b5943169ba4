/** What a generator returns once it has been run to its end. */
export function drained<Value>(work: Generator<unknown, Value>): Value {
  let step = work.next();
  while (!step.done) step = work.next();
  return step.value;
}
