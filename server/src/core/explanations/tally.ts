import type { DecidedSwap } from './decided-swaps.ts';
import type { ComparedSwap, Truths } from './entry-classes.ts';
import { type ExactTest, fisherExact, type TwoByTwo } from './fisher-exact.ts';
import { signTest } from './sign-test.ts';

/** A condition held against the pairs of drives. Pairs with mixed results under one condition count in neither table. */
export interface Tally {
  /** Pairs tried with it only, and pairs tried without it only. */
  readonly apart: TwoByTwo;
  /** Pairs tried both ways: those that worked only with it, only without it, and those that came out alike. */
  readonly within: { readonly onlyWith: number; readonly onlyWithout: number; readonly alike: number };
  /** How often chance alone does as well: by Fisher's test of the pairs apart, or by the sign test of those tried both ways. */
  readonly test: ExactTest & { readonly of: 'apart' | 'within' };
  /** Whether all outcomes with it came out one way, and all without it the other way. */
  readonly separates: boolean;
  /** Names of the pairs with mixed results under one condition. */
  readonly mixed: readonly string[];
}

/** The pairs of some decided swaps, each once. */
export interface PairList {
  readonly names: readonly string[];
  /** For each swap the position of its pair. */
  readonly pairOf: Int32Array;
}

/** Lists the pairs in the order in which they first come. */
export function listPairs(decided: readonly ComparedSwap[]): PairList {
  const positions = new Map<string, number>();
  for (const { pair } of decided) if (!positions.has(pair)) positions.set(pair, positions.size);
  return { names: [...positions.keys()], pairOf: Int32Array.from(decided, ({ pair }) => positions.get(pair) ?? 0) };
}

/** What came of a pair, in bits: worked and failed with the condition, then the same without it. */
const [worked, failed] = [1, 2];
const without = 4;

/**
 * Tests a condition over pairs. A pair tried only with it, or only without, counts in Fisher's test; a pair tried both ways in the
 * sign test. No pair is in both.
 */
export function tallyPairs(truths: Truths, decided: readonly DecidedSwap[], { names, pairOf }: PairList): Tally {
  const results = new Uint8Array(names.length);
  let [fits, opposes] = [false, false];
  for (let n = 0; n < decided.length; n++) {
    const truth = truths[n];
    if (truth === 0) continue;
    const works = decided[n]?.works === true;
    if ((truth === 1) === works) fits = true;
    else opposes = true;
    const pair = pairOf[n] ?? 0;
    results[pair] = (results[pair] ?? 0) | ((works ? worked : failed) * (truth === 1 ? 1 : without));
  }
  const counts = new Uint32Array(16);
  for (const bits of results) counts[bits] = (counts[bits] ?? 0) + 1;
  const count = (having: number, lacking: number): number => counts[having + without * lacking] ?? 0;
  const apart: TwoByTwo = {
    ...{ withWorked: count(worked, 0), withFailed: count(failed, 0) },
    ...{ withoutWorked: count(0, worked), withoutFailed: count(0, failed) },
  };
  const within = {
    ...{ onlyWith: count(worked, failed), onlyWithout: count(failed, worked) },
    alike: count(worked, worked) + count(failed, failed),
  };
  return {
    ...{ apart, within, test: strongerTest(apart, within), separates: fits !== opposes },
    mixed: names.filter((_, pair) => isMixed(results[pair] ?? 0)),
  };
}

function isMixed(bits: number): boolean {
  return (bits & 3) === 3 || bits >> 2 === 3;
}

/** The test that could show more; where neither could, the one of more pairs. */
function strongerTest(apart: TwoByTwo, { onlyWith, onlyWithout }: Tally['within']): Tally['test'] {
  const [fisher, sign] = [fisherExact(apart), signTest(onlyWith, onlyWithout)];
  const pairsApart = Object.values(apart).reduce((sum: number, count: number) => sum + count, 0);
  const isWithin = sign.least < fisher.least || (sign.least === fisher.least && onlyWith + onlyWithout > pairsApart);
  return isWithin ? { of: 'within', ...sign } : { of: 'apart', ...fisher };
}
