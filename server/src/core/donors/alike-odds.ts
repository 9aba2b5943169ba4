import type { ConditionData } from '../../../../schemas/gen/records.ts';
import { toFormula } from '../conditions/formula.ts';
import type { Swap } from '../conditions/swap.ts';
import type { Truth } from '../conditions/truth.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { answersTo, familyMeans } from '../odds/family-means.ts';
import { type FamilyRate, familyRate } from '../odds/family-rates.ts';
import type { Rule } from '../reasoning/rule.ts';
import { rememberedWithin } from '../terms/remembered.ts';

/** How swaps fared of which the rules say the same as of a planned one. */
export interface AlikeOdds {
  /** Of the patient. */
  readonly family: string;
  /** As planned. */
  readonly romTravels: Truth;
  /** The conditions that hold on the planned swap, and under `none` those that do not; empty where no rule tells swaps apart. */
  readonly given: ConditionData;
  /** What is to be expected of such a swap in the light of all families, 0 to 1. */
  readonly mean: number;
}

/**
 * Gives the odds of swaps like a planned one: those of the patient's family, with the ROM as planned, for which every condition that is
 * decided on the planned swap comes out the same. Undefined where the family is not recorded.
 */
export function alikeOdds(
  {
    family,
    romTravels,
    rules,
  }: { readonly family: string; readonly romTravels: Truth; readonly rules: readonly Rule[] },
  snapshot: Snapshot,
): (planned: Swap) => AlikeOdds | undefined {
  const formulas = rules.map(({ when }) => when);
  const meanOf = familyMeans({ family, romTravels, formulas }, snapshot);
  const known = new Map<string, AlikeOdds | undefined>();
  return (planned) => {
    const wanted = answersTo(formulas, planned);
    if (!known.has(wanted)) {
      const mean = meanOf(wanted);
      const odds = { family, romTravels, given: conditionOf(rules, wanted) };
      known.set(wanted, mean === undefined ? undefined : { ...odds, mean });
    }
    return known.get(wanted);
  };
}

/** All that is said of the rate of such swaps, as `swaplore odds` says it given the same condition. */
export const alikeRate = rememberedWithin(
  ({ family, romTravels, given }: AlikeOdds, snapshot: Snapshot): FamilyRate | undefined =>
    familyRate({ family, romTravels, given: toFormula(given, []) }, snapshot),
);

function conditionOf(rules: readonly Rule[], answers: string): ConditionData {
  const conditionsThat = (wanted: string): ConditionData[] =>
    rules.flatMap(({ record }, n) => (answers[n] === wanted && record.data.when ? record.data.when : []));
  const [all, none] = [conditionsThat('y'), conditionsThat('n')];
  return { ...(all.length > 0 ? { all } : {}), ...(none.length > 0 ? { none } : {}) };
}
