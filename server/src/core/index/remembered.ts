/**
 * A function that is worked out once for each object it is given, for as long as that object lives. Only for what follows from the object
 * alone: evidence and results of rules stay the same objects for as long as all they rest on does.
 */
export function remembered<Input extends object, Value>(work: (input: Input) => Value): (input: Input) => Value {
  const known = new WeakMap<Input, { readonly value: Value }>();
  return (input) => {
    const found = known.get(input) ?? { value: work(input) };
    known.set(input, found);
    return found.value;
  };
}
