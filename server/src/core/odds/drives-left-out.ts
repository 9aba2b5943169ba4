/**
 * How much the rate of some trials rests on a single drive.
 * Laws (test/property/drives-left-out.property.test.ts):
 * - the range is that of the rates counted anew without each drive in turn
 * - the rate of all pairs lies within the range
 */
import { addTo } from '../terms/grouped.ts';
import type { TriedPair } from './count-pairs.ts';

/** The rates, lowest and highest, 0 to 1, when any one drive is left out; undefined where no pair is left without one of them. */
export function rangeWithoutOneDrive(pairs: readonly TriedPair[]): readonly [number, number] | undefined {
  const byDrive = new Map<string, TriedPair[]>();
  for (const pair of pairs) {
    for (const drive of pair.drives) addTo(byDrive, drive, pair);
  }
  const all = votesOf(pairs);
  let [low, high] = [1, 0];
  for (const own of byDrive.values()) {
    const left = pairs.length - own.length;
    if (left === 0) return undefined;
    // A difference of sums may miss 0 or 1 by a rounding error.
    const rate = Math.min(1, Math.max(0, (all - votesOf(own)) / left));
    low = Math.min(low, rate);
    high = Math.max(high, rate);
  }
  return byDrive.size === 0 ? undefined : [low, high];
}

function votesOf(pairs: readonly TriedPair[]): number {
  return pairs.reduce((sum, { tried, succeeded }) => sum + succeeded / tried, 0);
}
