import { isDeepStrictEqual } from 'node:util';

/** Throws where two values differ, with both, cut short. */
export function agree(name: string, actual: unknown, expected: unknown): void {
  if (isDeepStrictEqual(actual, expected)) return;
  throw new Error(`${name}: ${shortly(actual)} and ${shortly(expected)}`);
}

/** Throws where something does not hold; `seen` is told with it. */
export function demand(holds: boolean, name: string, seen: unknown): void {
  if (!holds) throw new Error(`${name}: ${shortly(seen)}`);
}

/** Whether a text is a sentence or several, or a question. */
export function isSentence(text: string): boolean {
  return /^\S.*[.?]$/su.test(text);
}

/** Throws where data is not what it was once it has been kept as JSON. */
export function agreeFromCache(name: string, data: unknown): void {
  agreeInData(name, JSON.parse(JSON.stringify(data)), data);
}

/** Throws where two values say something else, whatever their maps are made of. */
export function agreeInData(name: string, actual: unknown, expected: unknown): void {
  demand(isSameData(actual, expected), name, [actual, expected]);
}

/** Whether data says the same, whatever its maps are made of. What is undefined counts as absent; 0 and -0 differ. */
function isSameData(a: unknown, b: unknown): boolean {
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return Object.is(a, b);
  const [of, own] = [a, b].map((map) => Object.entries(map).filter(([, value]) => value !== undefined));
  const others = new Map(own);
  return (
    Array.isArray(a) === Array.isArray(b) &&
    of?.length === others.size &&
    of.every(([key, value]) => others.has(key) && isSameData(value, others.get(key)))
  );
}

function shortly(value: unknown): string {
  return String(JSON.stringify(value)).slice(0, 1_500);
}
