/**
 * A minimal set of names that cannot hold together: leave any one out and the rest can.
 * Source: Junker, QuickXplain, 2004 (from memory).
 */
import type { Solver } from './solver.ts';

/**
 * The minimal set that prefers earlier names: those that stand later are in it only where they have to be. It depends on the
 * order of the names and on nothing else. Gives `consistent` where all can hold together, `undecided` where the effort did not
 * suffice.
 */
export function minimalCore(
  solver: Pick<Solver, 'statusOf'>,
  names: readonly string[],
): readonly string[] | 'consistent' | 'undecided' {
  let isUndecided = false;
  const canHold = (some: readonly string[]): boolean => {
    const status = solver.statusOf(some);
    if (status === 'undecided') isUndecided = true;
    return status === 'sat';
  };
  if (canHold(names)) return 'consistent';
  if (isUndecided) return 'undecided';
  const core = canHold([]) ? explain([], false, names, canHold) : [];
  return isUndecided ? 'undecided' : core;
}

/**
 * What of `names` is needed for a contradiction with `background`; `hasGrown` says that `background` has changed since it was
 * last asked.
 */
function explain(
  background: readonly string[],
  hasGrown: boolean,
  names: readonly string[],
  canHold: (names: readonly string[]) => boolean,
): readonly string[] {
  if (hasGrown && !canHold(background)) return [];
  if (names.length <= 1) return names;
  const middle = Math.ceil(names.length / 2);
  const [preferred, others] = [names.slice(0, middle), names.slice(middle)];
  const fromOthers = explain([...background, ...preferred], true, others, canHold);
  const fromPreferred = explain([...background, ...fromOthers], fromOthers.length > 0, preferred, canHold);
  return [...fromPreferred, ...fromOthers];
}
