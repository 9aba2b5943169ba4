/**
 * How a broken law that much speaks for might be mended: by one more entry in its condition, by a rate in place of always, or by an
 * exception. Only suggested: which of them is right is known at the bench.
 * Laws (test/property/suggested-repairs.property.test.ts):
 * - a law with the suggested entry keeps its support and has nothing against it
 * - a suggested rate is none that the recorded pairs speak against
 */
import { type ComparableKey, comparableKeys } from '../../../../schemas/gen/key-table.ts';
import type { ConditionData } from '../../../../schemas/gen/records.ts';
import { evaluate } from '../conditions/evaluate.ts';
import { type Formula, toFormula } from '../conditions/formula.ts';
import type { Truth } from '../conditions/truth.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { Rule } from '../reasoning/rule.ts';
import { type RuleResult, ruleResults } from '../reasoning/rule-results.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import { pairsInSupport, pairsOfRate } from './rule-trials.ts';

/** What might mend a law. Each part stands for itself. */
export interface SuggestedRepair {
  readonly rule: Rule;
  /** Outcomes that stand against it, by id. */
  readonly against: readonly string[];
  /** The narrowest entry that helps, and the condition with it; undefined where none over one key does. */
  readonly entry: { readonly add: ConditionData; readonly when: ConditionData } | undefined;
  /** A rate that the pairs bear out, above 0 and below 1, in hundredths; undefined where none of a half or more is left. */
  readonly atLeast: number | undefined;
}

/** Pairs that have to support a law before it is mended and not simply doubted. Source: our own; fewer fit almost any entry. */
const fewestPairs = 5;

/** Lowest rate that is worth writing down. */
const lowestRate = 0.5;

/** What might mend each broken law that enough pairs support, by rule id. */
export function suggestedRepairs(snapshot: Snapshot): SuggestedRepair[] {
  return ruleResults(snapshot).flatMap((result) => suggestedRepair(result) ?? []);
}

/** What might mend a rule; undefined where it is no broken law, or too few pairs support it. */
export function suggestedRepair(result: RuleResult): SuggestedRepair | undefined {
  const { rule, against } = result;
  if (rule.atLeast !== undefined || against.length === 0) return undefined;
  if (pairsInSupport(result).pairs < fewestPairs) return undefined;
  const outcomes = against.map(({ outcome }) => outcome.id);
  return { rule, against: outcomes, entry: narrowestEntry(result), atLeast: rateOf(result) };
}

/** The entries that may be added, in the order in which of two equally narrow ones the first is taken. */
const entries: readonly ConditionData[] = [
  ...comparableKeys.flatMap((key: ComparableKey) => [{ same: [key] }, { different: [key] }]),
  { rom_travels: true },
  { rom_travels: false },
];

function narrowestEntry(result: RuleResult): SuggestedRepair['entry'] {
  const { rule, support, against, neutral, undecided } = result;
  const when = rule.record.data.when ?? {};
  const inScope = [...support, ...against, ...neutral, ...undecided];
  const helping = entries.flatMap((add) => {
    const formula = toFormula(add, []);
    if (!helps(formula, result)) return [];
    return [{ add, breadth: inScope.filter((one) => truthOf(formula, one) === true).length }];
  });
  const [narrowest] = helping.sort((a, b) => a.breadth - b.breadth);
  return narrowest && { add: narrowest.add, when: joined(rule, when, narrowest.add) };
}

/**
 * Whether an entry makes the law say nothing of what stands against it and the same of what supports it. To what is enough or
 * prevents, it is added as a further condition; to what is needed, as another way to meet the need.
 */
function helps(entry: Formula, { rule, support, against }: RuleResult): boolean {
  if (rule.claim === 'needs') {
    const isUnmet = (one: Evidence): boolean => truthOf(rule.when, one) === false;
    return (
      against.every((one) => truthOf(entry, one) === true) &&
      support.filter(isUnmet).every((one) => truthOf(entry, one) === false)
    );
  }
  const isMet = (one: Evidence): boolean => truthOf(rule.when, one) === true;
  return (
    against.every((one) => truthOf(entry, one) === false) &&
    support.filter(isMet).every((one) => truthOf(entry, one) === true)
  );
}

function truthOf(formula: Formula, { swap }: Evidence): Truth {
  return swap && evaluate(formula, swap);
}

function joined({ claim }: Rule, when: ConditionData, add: ConditionData): ConditionData {
  if (claim === 'needs') return { any: [when, add] };
  return {
    ...when,
    ...add,
    ...(add.same ? { same: [...(when.same ?? []), ...add.same] } : {}),
    ...(add.different ? { different: [...(when.different ?? []), ...add.different] } : {}),
  };
}

/** The share of pairs that bear the claim out, rounded down. */
function rateOf(result: RuleResult): number | undefined {
  const { pairs, votes } = pairsOfRate(result);
  const share = pairs === 0 ? 0 : Math.floor((100 * votes) / pairs) / 100;
  return share >= lowestRate && share < 1 ? share : undefined;
}
