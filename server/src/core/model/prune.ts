import type { Data, DataMap } from '../syntax/build-data.ts';
import type { Path } from '../syntax/tape.ts';
import { valueAt } from '../syntax/value-at.ts';

/**
 * The data without the values at the given paths, and the paths that really held something. An entry of a list of plain values
 * takes its whole list along: a shorter list would say something else than what was written.
 */
export function withoutUnusable(data: DataMap, paths: readonly Path[]): { data: DataMap; unusable: Path[] } {
  if (paths.length === 0) return { data, unusable: [] };
  const unusable = paths.map(wholeValuePath).filter((path) => path.length > 0 && valueAt(data, path) !== undefined);
  let pruned: Data = data;
  for (const path of unusable) pruned = without(pruned, path);
  return { data: pruned as DataMap, unusable };
}

function wholeValuePath(path: Path): Path {
  let length = path.length;
  while (length > 0 && typeof path[length - 1] === 'number') length--;
  return path.slice(0, length);
}

function without(data: Data, path: Path): Data {
  const [step, ...rest] = path;
  if (step === undefined || typeof data !== 'object' || data === null) return data;
  if (Array.isArray(data)) return data.map((item, position) => (position === step ? without(item, rest) : item));
  const copy: Record<string, Data> = Object.create(null);
  for (const [key, value] of Object.entries(data as DataMap)) {
    if (key !== step) copy[key] = value;
    else if (rest.length > 0) copy[key] = without(value, rest);
  }
  return copy;
}
