/**
 * Fisher's exact test of a table of two by two: how often chance alone, with the same totals, gives a table no likelier than this one.
 * Laws (test/property/exact-tests.property.test.ts):
 * - p counts the ways to deal out what came of the pairs
 * - rows, columns or both exchanged keep p
 * - a table that separates has the smallest p of its totals
 */

/** Counts with and without something, each by what came of it. Whole numbers. */
export interface TwoByTwo {
  readonly withWorked: number;
  readonly withFailed: number;
  readonly withoutWorked: number;
  readonly withoutFailed: number;
}

/** What an exact test says: `p`, and the smallest p that any result with the same totals could have had. Both above 0, at most 1. */
export interface ExactTest {
  readonly p: number;
  readonly least: number;
}

/** Two-sided: all tables that are no likelier than this one are as far from even. */
export function fisherExact({ withWorked, withFailed, withoutWorked, withoutFailed }: TwoByTwo): ExactTest {
  const chances = chancesOf(withWorked + withFailed, withWorked + withoutWorked, withoutWorked + withoutFailed);
  const first = Math.max(0, withWorked - withoutFailed);
  const upTo = (chance: number): number => {
    const limit = chance * (1 + tieTolerance);
    return Math.max(smallestP, Math.min(1, sumOf(chances.filter((other) => other <= limit))));
  };
  return { p: upTo(chances[withWorked - first] ?? 1), least: upTo(Math.min(...chances)) };
}

/** Equal chances differ by rounding only. Source: R's fisher.test, which takes 1e-7. */
const tieTolerance = 1e-7;

/** Stands for what no number can hold. */
const smallestP = 1e-300;

/**
 * The chance of each number with and worked, from the least there can be. Each follows from its neighbour, beginning at the likeliest,
 * so that nothing grows too large to be added.
 */
function chancesOf(having: number, worked: number, lacking: number): readonly number[] {
  const first = Math.max(0, worked - lacking);
  const last = Math.min(having, worked);
  const likeliest = Math.floor(((having + 1) * (worked + 1)) / (having + lacking + 2));
  const middle = Math.min(last, Math.max(first, likeliest));
  const ratio = (k: number): number => ((having - k) * (worked - k)) / ((k + 1) * (lacking - worked + k + 1));
  const weights = new Array<number>(last - first + 1).fill(1);
  for (let k = middle; k < last; k++) weights[k + 1 - first] = (weights[k - first] ?? 0) * ratio(k);
  for (let k = middle; k > first; k--) weights[k - 1 - first] = (weights[k - first] ?? 0) / ratio(k - 1);
  const total = sumOf(weights);
  return weights.map((weight) => weight / total);
}

function sumOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}
