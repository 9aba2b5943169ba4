/**
 * A minimal set of names that cannot hold together: leave any one out and the rest can. The set is the one that QuickXplain gives (Junker, 2004,
 * from memory); as every refusal comes with a core, it is found by looking for its last name first, then for the one before.
 * Laws (test/property/minimal-core.property.test.ts):
 * - the minimal core is the one whose names, from the last on, stand as early as can be
 */
import type { Solver } from './solver.ts';

/**
 * The minimal set that prefers earlier names: those that stand later are in it only where they have to be. It depends on the
 * order of the names and on nothing else. Gives `consistent` where all can hold together, `undecided` where the effort did not
 * suffice.
 */
export function minimalCore(
  solver: Pick<Solver, 'coreOf'>,
  names: readonly string[],
): readonly string[] | 'consistent' | 'undecided' {
  const positions = new Map(names.map((name, position) => [name, position]));
  /** How many of the first so many names it takes for a contradiction with those chosen; undefined where all of them do not. */
  const bound = (chosen: readonly string[], count: number): number | 'consistent' | 'undecided' => {
    const core = solver.coreOf([...chosen, ...names.slice(0, count)]);
    if (typeof core === 'string') return core;
    const isChosen = new Set(chosen);
    return Math.max(0, ...core.flatMap((name) => (isChosen.has(name) ? [] : [(positions.get(name) ?? 0) + 1])));
  };
  const chosen: string[] = [];
  for (let count = names.length; ; ) {
    const needed = fewestNeeded((some) => bound(chosen, some), count);
    if (typeof needed === 'string') return needed;
    if (needed === 0) return chosen.reverse();
    chosen.push(names[needed - 1] ?? '');
    count = needed - 1;
  }
}

/** The smallest number that is not consistent, by halving; every refusal may lower it further. */
function fewestNeeded(
  bound: (count: number) => number | 'consistent' | 'undecided',
  most: number,
): number | 'consistent' | 'undecided' {
  let high = bound(most);
  if (typeof high === 'string') return high;
  let low = 0;
  for (let isGuess = true; low < high; isGuess = !isGuess) {
    // The refusal that came last is often exact: then one question more is enough.
    const middle = isGuess ? high - 1 : Math.floor((low + high) / 2);
    const found = bound(middle);
    if (found === 'undecided') return found;
    if (found === 'consistent') low = middle + 1;
    else high = found;
  }
  return high;
}
