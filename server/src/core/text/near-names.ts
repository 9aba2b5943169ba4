import { inARow } from './in-a-row.ts';

/**
 * The names closest to a mistyped one, all equally close, at most three; empty when none is close.
 * Close means at most a third of the letters typed wrongly, and never more than three; a swap of two neighbours counts once
 * (optimal string alignment distance), case and the choice of `-`, `_` or space do not count.
 */
export function nearNames(typed: string, names: Iterable<string>): string[] {
  const wanted = foldName(typed);
  // Of two letters one wrong is half the name: `B1` is not near `A1`.
  const limit = wanted.length < 3 ? 0 : Math.min(3, Math.max(1, Math.floor(wanted.length / 3)));
  const close: { readonly name: string; readonly distance: number }[] = [];
  for (const name of names) {
    const distance = distanceWithin(wanted, foldName(name), limit);
    if (distance !== undefined) close.push({ name, distance });
  }
  const least = Math.min(...close.map((entry) => entry.distance));
  const nearest = close.filter((entry) => entry.distance === least).map((entry) => entry.name);
  return nearest.sort().slice(0, 3);
}

/** "the nearest is `a`" or "the nearest are `a` and `b`"; undefined where nothing is near. */
export function nearestPhrase(near: readonly string[]): string | undefined {
  return near.length === 0 ? undefined : `the nearest ${near.length === 1 ? 'is' : 'are'} ${inARow(near)}`;
}

/** The same behind a statement: "; the nearest is `a`". Empty where nothing is near. */
export function nearestClause(near: readonly string[]): string {
  const phrase = nearestPhrase(near);
  return phrase === undefined ? '' : `; ${phrase}`;
}

function foldName(name: string): string {
  return name.toLowerCase().replace(/[\s_-]+/g, '-');
}

/** Optimal string alignment distance where it is at most `limit`, else undefined. */
function distanceWithin(a: string, b: string, limit: number): number | undefined {
  if (Math.abs(a.length - b.length) > limit) return undefined;
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let row = 1; row <= a.length; row++) {
    const current = [row];
    for (let column = 1; column <= b.length; column++) {
      const isSame = a[row - 1] === b[column - 1];
      const isSwap = row > 1 && column > 1 && a[row - 1] === b[column - 2] && a[row - 2] === b[column - 1];
      const cost = Math.min(
        (last[column] ?? 0) + 1,
        (current[column - 1] ?? 0) + 1,
        (last[column - 1] ?? 0) + (isSame ? 0 : 1),
        isSwap ? (beforeLast[column - 2] ?? 0) + 1 : Number.POSITIVE_INFINITY,
      );
      current.push(cost);
    }
    beforeLast = last;
    last = current;
  }
  const distance = last[b.length] ?? 0;
  return distance <= limit ? distance : undefined;
}
