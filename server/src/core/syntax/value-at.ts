import type { Path } from './tape.ts';

/** The value that a path leads to in plain data; undefined where there is none. */
export function valueAt(data: unknown, path: Path): unknown {
  let value = data;
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Readonly<Record<string | number, unknown>>)[step];
  }
  return value;
}
