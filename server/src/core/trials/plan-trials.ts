/**
 * Which swap of the shelf to try next, so that its result tells most about what explains the results so far.
 * Laws (test/property/plan-trials.property.test.ts):
 * - what a trial is expected to tell is what weighing again after each result gives
 * - trials stand in the order of what they are expected to tell
 * - the order of drives and outcomes changes nothing
 */
import { romTravels } from '../conditions/rom-travels.ts';
import type { Swap } from '../conditions/swap.ts';
import { sharedKeys } from '../donors/shared-keys.ts';
import { type Claim, Claims } from '../explanations/claims-of.ts';
import type { DecidedSwap } from '../explanations/decided-swaps.ts';
import { chanceWhereRight, type Weight } from '../explanations/weigh.ts';
import { type WeighedPartitions, weighPartitions } from '../explanations/weigh-partitions.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { type Expected, expectedInformation } from './expected-information.ts';
import { trialGroups } from './trial-groups.ts';
import { type TrialShelf, trialShelf } from './trial-shelf.ts';

/** An explanation that may still be right. */
export interface Candidate {
  readonly claim: Claim;
  /** Claims that say the same of every decided outcome and of every swap of the shelf. */
  readonly equals: readonly Claim[];
  /** How far it is believed, 0 to 1. */
  readonly weight: number;
}

/** Swaps alike, any of which would tell as much. */
export interface PlannedTrial extends Expected {
  /** One of them. */
  readonly swap: Swap;
  /** How many there are; a pair counts for each way round that is alike. */
  readonly swaps: number;
  /** Comparable keys that both sides record alike. */
  readonly matching: number;
  /** How far candidates are believed after it. */
  readonly after: (result: 'works' | 'fails') => Belief;
}

/** How far each candidate is believed, in their order, and that none is right. They sum to 1. */
export interface Belief {
  readonly candidates: readonly number[];
  readonly none: number;
}

/** What could be tried next for a family. */
export interface TrialPlan {
  /** Those believed most first, without a rest believed to a millionth together. */
  readonly candidates: readonly Candidate[];
  /** How far to believe that none of them is right, 0 to 1. */
  readonly none: number;
  /** Those that tell most first. */
  readonly trials: readonly PlannedTrial[];
  readonly shelf: TrialShelf;
  /** Drives looked at, and whether some kinds of swaps were left out for their number. */
  readonly looked: { readonly looked: number; readonly isCut: boolean };
}

/** Plans the next trial of a family from its decided outcomes. */
export function planTrials(family: string, decided: readonly DecidedSwap[], snapshot: Snapshot): TrialPlan {
  const ordered = [...decided].sort((a, b) => byCodeUnits(a.outcome, b.outcome));
  const shelf = trialShelf(family, snapshot);
  const { groups, all, looked } = trialGroups(shelf, ordered, snapshot);
  const weighed = inOrderOfWeight(weighPartitions(ordered, groups));
  const { partitions, weights, none } = weighed;
  const believed = [...weights.map(({ weight }) => weight), none];
  const trials = groups.map(({ swap, swaps }, n): PlannedTrial => {
    const chances = () => chancesOf(ordered.length + n, weighed);
    const matching = sharedKeys(swap).matching.length;
    const after: PlannedTrial['after'] = (result) => beliefAfter(believed, chances(), result);
    return { ...{ swap, swaps, matching }, ...expectedInformation(believed, chances()), after };
  });
  const candidates = partitions.map((partition, n): Candidate => {
    const { weight = 0, worksWhereItHolds = 0 } = weights[n] ?? {};
    const claims = new Claims(partition, worksWhereItHolds >= 0.5);
    return {
      get claim() {
        return claims.first;
      },
      get equals() {
        return claims.equals;
      },
      weight,
    };
  });
  return { candidates, none, trials: trials.sort(byUse), shelf, looked: { looked, isCut: groups.length < all } };
}

/** Weight that may be left out altogether: no figure shown depends on it. */
const negligible = 1e-6;

/** The partitions believed most first, without a rest that does not count. */
function inOrderOfWeight(weighed: WeighedPartitions): WeighedPartitions {
  const { partitions, weights, none } = weighed;
  const joined = partitions.flatMap((partition, n) => {
    const weight = weights[n];
    return weight ? [{ partition, weight }] : [];
  });
  joined.sort((a, b) => b.weight.weight - a.weight.weight);
  let rest = 1 - none;
  const kept = joined.filter(({ weight: { weight } }) => {
    const isKept = rest >= negligible;
    rest -= weight;
    return isKept;
  });
  return { ...weighed, partitions: kept.map(({ partition }) => partition), weights: kept.map(({ weight }) => weight) };
}

/** The chance that a swap works, by every candidate in order, and by none of them. */
function chancesOf(swap: number, { partitions, weights, rateOfNone }: WeighedPartitions): Float64Array {
  const chances = new Float64Array(partitions.length + 1).fill(rateOfNone);
  for (let n = 0; n < partitions.length; n++) {
    const weight = weights[n];
    if (weight) chances[n] = chanceBy(weight, partitions[n]?.truths[swap] ?? 0);
  }
  return chances;
}

/** The chance that a swap works if a condition is why that says this of it: one way or the other, as far as each is believed. */
function chanceBy({ worksWhereItHolds, rateWhereNotKnown }: Weight, truth: number): number {
  if (truth === 0) return rateWhereNotKnown;
  const right = truth === 1 ? worksWhereItHolds : 1 - worksWhereItHolds;
  return right * chanceWhereRight + (1 - right) * (1 - chanceWhereRight);
}

function beliefAfter(believed: readonly number[], chances: Float64Array, result: 'works' | 'fails'): Belief {
  const joint = believed.map((weight, n) => weight * (result === 'works' ? (chances[n] ?? 0) : 1 - (chances[n] ?? 0)));
  const chance = joint.reduce((sum, part) => sum + part, 0);
  const weights = joint.map((part) => part / chance);
  return { candidates: weights.slice(0, -1), none: weights.at(-1) ?? 0 };
}

/** Information that differs by less is as good. */
const grain = 1e-6;

/** Most information first; of equal ones the closest match, since fewer other things can be why it fails; then by id. */
function byUse(a: PlannedTrial, b: PlannedTrial): number {
  return (
    Math.round(b.information / grain) - Math.round(a.information / grain) ||
    b.matching - a.matching ||
    Number(romTravels(b.swap) === true) - Number(romTravels(a.swap) === true) ||
    byCodeUnits(a.swap.patient.drive.id, b.swap.patient.drive.id) ||
    byCodeUnits(a.swap.donor.drive.id, b.swap.donor.drive.id)
  );
}
