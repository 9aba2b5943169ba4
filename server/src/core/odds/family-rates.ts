/**
 * The odds of all families with all that can be said of each rate. Works through every family, so it is for reports, not for what
 * follows every key.
 * Laws (test/property/family-rates.property.test.ts):
 * - the row of both ROM states counts every outcome that its family has, each in one place
 * - given a condition and given its contrary, the outcomes are shared out between them, but for those of which it is not known
 * - intervals hold the rate of the pairs, and the pooled mean lies between 0 and 1
 * - a row alone is that row of all
 */

import type { Formula } from '../conditions/formula.ts';
import type { Truth } from '../conditions/truth.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { grouped } from '../terms/grouped.ts';
import { remembered } from '../terms/remembered.ts';
import { evidenceByFamily } from '../verdicts/evidence-by-family.ts';
import { countPairs, independentTally, type PairCount, pairsOf, type Trial } from './count-pairs.ts';
import { rangeWithoutOneDrive } from './drives-left-out.ts';
import { exactInterval } from './exact-bounds.ts';
import { joined, type RomGroup, trialsByRom } from './family-trials.ts';
import { jeffreysInterval } from './jeffreys-interval.ts';
import { type PooledRate, pooledRates, type TriedGroup } from './pooled-rates.ts';
import { wilsonInterval } from './wilson-interval.ts';

/** A lower and an upper bound, 0 to 1. */
type Interval = readonly [number, number];

/** What is known of the rate at which swaps of a family work. Intervals are of 95 %; without a pair they say nothing: 0 to 1. */
export interface FamilyRate {
  readonly family: string;
  /** Whether the ROM travelled; undefined for all outcomes together, those included of which it is not known. */
  readonly romTravels: Truth;
  /** Eligible outcomes. */
  readonly outcomes: number;
  /** Their pairs; votes are pairs that worked at the base's `works_at`. */
  readonly count: PairCount;
  /** Outcomes that are not eligible: those that worked all the same, and the inconclusive ones. */
  readonly uncontrolled: { readonly worked: number; readonly open: number };
  /** Outcomes of which the given condition is not known. */
  readonly notKnown: number;
  readonly exact: Interval;
  readonly wilson: Interval;
  readonly jeffreys: Interval;
  /** Rates, lowest and highest, when any one drive is left out; undefined where that may leave no pair. */
  readonly leaveOneDriveOut: Interval | undefined;
  /** What is to be expected in the light of other families, those of the same maker first. */
  readonly pooled: PooledRate;
}

/** Three rows a family, by family id: ROM travelled, not travelled, both together. Of a condition, outcomes that meet it only. */
export function familyRates(snapshot: Snapshot, given?: Formula): readonly FamilyRate[] {
  const families = groupedFamilies(snapshot, given);
  const columns = [true, false, undefined].map((romTravels) => {
    const counted = families.map(({ id, maker, groups }) => ({ maker, row: withoutPooling(id, romTravels, groups) }));
    const tallies = counted.map(({ maker, row }) => ({ parent: maker, ...tallyOf(row.count) }));
    const pooled = pooledRates(tallies);
    return pooled.flatMap((rate, n) => withPooling(counted[n]?.row, rate));
  });
  return families.flatMap((_, n) => columns.flatMap((rows) => rows[n] ?? []));
}

/** The rows of every family by its id, without a condition. Worked out once for a snapshot: every rate leans on those of all families. */
export const ratesByFamily = remembered(
  (snapshot: Snapshot): ReadonlyMap<string, readonly FamilyRate[]> =>
    grouped(familyRates(snapshot), ({ family }) => family),
);

interface GroupedFamily {
  readonly id: string;
  readonly maker: string;
  readonly groups: readonly RomGroup[];
}

function groupedFamilies(snapshot: Snapshot, given: Formula | undefined): readonly GroupedFamily[] {
  return snapshot.records('family').map((family) => ({
    id: family.id,
    maker: makerOf(family.id, snapshot),
    groups: trialsByRom(evidenceByFamily(snapshot).get(family.id) ?? [], snapshot.config, given),
  }));
}

/** Which row of a family is meant. */
interface RateQuestion {
  readonly family: string;
  readonly romTravels: Truth;
  /** Outcomes that meet it only. */
  readonly given: Formula;
}

/** One row alone, in far fewer steps where there are many families; undefined where the family is not recorded. */
export function familyRate({ family, romTravels, given }: RateQuestion, snapshot: Snapshot): FamilyRate | undefined {
  const families = groupedFamilies(snapshot, given);
  const groups = families.find(({ id }) => id === family)?.groups;
  const tallies = families.map(({ maker, groups: own }) => triedGroup(maker, trialsIn(romTravels, own).trials));
  const [pooled] = pooledRates(
    tallies,
    groups && [triedGroup(makerOf(family, snapshot), trialsIn(romTravels, groups).trials)],
  );
  return groups && pooled && { ...withoutPooling(family, romTravels, groups), pooled };
}

/** What the sisters of a family have in common with it: its maker. A family whose maker is not recorded has no sisters. */
export function makerOf(family: string, snapshot: Snapshot): string {
  return snapshot.find('family', family)?.data.maker ?? `family ${family}`;
}

function triedGroup(maker: string, trials: readonly Trial[]): TriedGroup {
  return { parent: maker, ...(trials.length === 0 ? nothingTried : tallyOf(countPairs(trials))) };
}

function withPooling(row: Omit<FamilyRate, 'pooled'> | undefined, pooled: PooledRate): FamilyRate[] {
  return row ? [{ ...row, pooled }] : [];
}

function withoutPooling(family: string, romTravels: Truth, groups: readonly RomGroup[]): Omit<FamilyRate, 'pooled'> {
  const { trials, worked, open, notKnown } = trialsIn(romTravels, groups);
  const count = countPairs(trials);
  return {
    ...{ family, romTravels, outcomes: trials.length, count, uncontrolled: { worked, open }, notKnown },
    ...intervalsOf(count),
    leaveOneDriveOut: rangeWithoutOneDrive(pairsOf(trials)),
  };
}

/** What was tried with the ROM in this state; of both where that is undefined. */
function trialsIn(romTravels: Truth, groups: readonly RomGroup[]): ReturnType<typeof joined> {
  return joined(groups.filter((group) => romTravels === undefined || group.romTravels === romTravels));
}

function intervalsOf(count: PairCount): Pick<FamilyRate, 'exact' | 'wilson' | 'jeffreys'> {
  if (count.pairs === 0) return { exact: [0, 1], wilson: [0, 1], jeffreys: [0, 1] };
  const tally = tallyOf(count);
  return {
    exact: exactInterval(tally, confidence),
    wilson: wilsonInterval(tally),
    jeffreys: jeffreysInterval(tally, confidence),
  };
}

function tallyOf(count: PairCount): ReturnType<typeof independentTally> {
  return count.pairs === 0 ? nothingTried : independentTally(count);
}

const nothingTried = { successes: 0, trials: 0 };

const confidence = 0.95;
