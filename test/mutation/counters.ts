/**
 * What the instrumented code calls in place of the functions that Stryker writes into each file. Those keep their counts in objects
 * with words as keys and replace themselves at the first call, so that V8 inlines neither; most of the time would go into counting.
 */

/** What the runner and the instrumented code tell each other. */
export interface Shared {
  /** The mutant that is tried, -1 for none. */
  active: number;
  /** How often it was reached, and how often it may be, which ends loops without end. */
  hits: number;
  mostHits: number;
  /** How often each mutant's place was reached; absent where nobody asks. */
  counts: Uint32Array | undefined;
}

const key = Symbol.for('swaplore.mutation');
const process: Record<symbol, unknown> = globalThis as never;
process[key] ??= { active: -1, hits: 0, mostHits: Number.POSITIVE_INFINITY, counts: undefined } satisfies Shared;

/** One for the process: the script of tests is evaluated anew for each mutant, and with it this file. */
export const shared = process[key] as Shared;

/** Whether the mutant is the one that is tried. */
export function isActive(mutant: number): boolean {
  if (shared.active !== mutant) return false;
  if (++shared.hits > shared.mostHits) throw new Error('This mutant was reached too often.');
  return true;
}

/** Counts that the places of these mutants were reached. */
export function reach(...mutants: readonly number[]): void {
  const { counts } = shared;
  if (counts === undefined) return;
  for (const mutant of mutants) counts[mutant] = (counts[mutant] ?? 0) + 1;
}
