/**
 * Conditions of a few entries, those that divide the decided outcomes alike put together.
 * Laws (test/property/explanations.property.test.ts):
 * - two conditions that divide the outcomes alike are one hypothesis
 */
import { divides, type EntryClass, partitionName, type Truths } from './entry-classes.ts';

/** A class of entries that has to hold, or not to. */
interface Term {
  readonly of: EntryClass;
  readonly wanted: boolean;
}

/** A condition, named by the first entry of each of its classes. */
export interface Conjunction {
  readonly terms: readonly Term[];
  /** Whether it holds where the first condition of its partition does not. */
  readonly isOpposite: boolean;
}

/** A way to divide the decided outcomes, with the conditions of fewest entries that do. */
export interface Partition {
  /** Entries it takes; a value of one side counts as two. */
  readonly size: number;
  /** At least one, the one that names the partition first. */
  readonly conjunctions: readonly [Conjunction, ...Conjunction[]];
  /** What the first of them says of every swap. */
  readonly truths: Truths;
}

/** All partitions, and how many classes were joined in twos and threes. */
export interface Partitions {
  readonly partitions: readonly Partition[];
  /** By number of entries; the first classes were taken. */
  readonly joined: ReadonlyMap<number, number>;
}

/** Pairs of drives from which conditions of three entries are looked at. */
const pairsForThree = 20;

/** Most classes that are joined, by number of entries. */
const mostJoined: Readonly<Record<2 | 3, number>> = { 2: 40, 3: 24 };

/** Outcomes looked at for each number of entries, about as many as are looked at within two seconds. */
const mostLooks = 10_000_000;

/** The partitions by conditions over these classes, with fewest entries first. */
export function partitionsBy(classes: readonly EntryClass[], outcomes: number, pairs: number): Partitions {
  const found = new Map<string, Partition & { isFlipped: boolean; conjunctions: [Conjunction, ...Conjunction[]] }>();
  const joined = new Map<number, number>();
  const sizes = pairs >= pairsForThree ? ([2, 3] as const) : ([2] as const);
  const take = (terms: readonly Term[]): void => {
    const truths = truthsOf(terms);
    if (!divides(truths)) return;
    const { name, isFlipped } = partitionName(truths);
    const size = terms.reduce((sum, term) => sum + sizeOf(term), 0);
    const known = found.get(name);
    if (!known || size < known.size) {
      found.set(name, { size, isFlipped, conjunctions: [{ terms, isOpposite: false }], truths });
    } else if (size === known.size) known.conjunctions.push({ terms, isOpposite: known.isFlipped !== isFlipped });
  };
  for (const of of classes) take([{ of, wanted: true }]);
  for (const size of sizes) {
    const taken = classesWithin(size, Math.min(classes.length, mostJoined[size]), outcomes);
    joined.set(size, taken);
    for (const terms of combinations(classes.slice(0, taken), size)) take(terms);
  }
  return { partitions: [...found.values()], joined };
}

/** What a condition says of each decided outcome: the least of what its terms say. */
function truthsOf(terms: readonly Term[]): Truths {
  const [first, ...others] = terms;
  if (!first) return new Int8Array();
  const result = first.of.truths.slice();
  if (!first.wanted) for (let n = 0; n < result.length; n++) result[n] = -(result[n] ?? 0);
  for (const { of, wanted } of others) {
    const { truths } = of;
    const sign = wanted ? 1 : -1;
    for (let n = 0; n < result.length; n++) {
      const signed = sign * (truths[n] ?? 0);
      if (signed < (result[n] ?? 0)) result[n] = signed;
    }
  }
  return result;
}

/** How many of some classes can be joined within the looks there are. */
function classesWithin(size: 2 | 3, most: number, outcomes: number): number {
  const conditions = (taken: number): number =>
    size === 2 ? 2 * taken * (taken - 1) : (4 / 3) * taken * (taken - 1) * (taken - 2);
  let taken = most;
  while (taken > 0 && conditions(taken) * outcomes > mostLooks) taken--;
  return taken;
}

/** A value of one side counts as two entries: it says which value besides which key. Source: our own. */
function sizeOf({
  of: {
    entries: [first],
  },
}: Term): number {
  return first.atom.test === 'side' ? 2 : 1;
}

/** A value that must not be would have conditions of any length: it is what all other values are. */
function canBeUnwanted({ entries: [first] }: EntryClass): boolean {
  return first.atom.test !== 'side';
}

/** Every choice of so many classes, each class both ways where it can be. */
function* combinations(classes: readonly EntryClass[], size: number): Generator<readonly Term[]> {
  if (size === 0) yield [];
  else {
    for (const [position, of] of classes.entries()) {
      for (const rest of combinations(classes.slice(position + 1), size - 1)) {
        yield [{ of, wanted: true }, ...rest];
        if (canBeUnwanted(of)) yield [{ of, wanted: false }, ...rest];
      }
    }
  }
}
