/**
 * The fewest things to take away so that the rest can hold together.
 * Source: Moreno-Centeno and Karp, The Implicit Hitting Set Approach, 2013 (from memory).
 * Laws (test/property/smallest-removal.property.test.ts):
 * - what remains after a smallest removal can hold together, and after no smaller or earlier one of its size
 * - minimal contradictions and minimal removals are each other's minimal hitting sets
 */
import { smallestHittingSet } from './hitting-set.ts';

/** What is asked of whoever knows what can hold together. */
export interface RemovalQuestion {
  /** In the order in which of equal removals the first is told. */
  readonly items: readonly string[];
  /** Items that cannot hold together when those given are left out; `consistent` where the rest can. */
  readonly contradictionWithout: (removed: ReadonlySet<string>) => readonly string[] | 'consistent' | 'undecided';
  /** Contradictions known from the start. */
  readonly known: readonly (readonly string[])[];
  /** Asked at every step of the search for candidates: whether to go on. */
  readonly mayGoOn: () => boolean;
}

/** The smallest removal, of equal ones the first by the order of the items; `undecided` where the effort did not suffice. */
export function smallestRemoval(question: RemovalQuestion): readonly string[] | 'undecided' {
  const { items, known, mayGoOn } = question;
  const numbers = new Map(items.map((item, number) => [item, number]));
  const toNumbers = (set: readonly string[]): number[] =>
    set.flatMap((item) => numbers.get(item) ?? []).sort((a, b) => a - b);
  const contradictions = known.map(toNumbers);
  for (;;) {
    const candidate = smallestHittingSet(contradictions, mayGoOn);
    if (!candidate) return 'undecided';
    const removal = candidate.flatMap((number) => items[number] ?? []);
    const found = contradictionsWithout(removal, question);
    if (found === 'undecided') return found;
    if (found.length === 0) return removal;
    contradictions.push(...found.map(toNumbers));
  }
}

/** Contradictions that a removal leaves, no two with an item in common: several at once spare as many rounds. */
function contradictionsWithout(
  removal: readonly string[],
  { contradictionWithout }: RemovalQuestion,
): (readonly string[])[] | 'undecided' {
  const removed = new Set(removal);
  const found: (readonly string[])[] = [];
  for (;;) {
    const contradiction = contradictionWithout(removed);
    if (contradiction === 'undecided') return contradiction;
    if (contradiction === 'consistent') return found;
    if (contradiction.length === 0) throw new Error('nothing that could be taken away is to blame');
    found.push(contradiction);
    for (const item of contradiction) removed.add(item);
  }
}
