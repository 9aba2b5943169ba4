import type { Snapshot } from '../index/snapshot.ts';
import { findSorted } from '../index/sorted.ts';
import { isRetracted, type RuleRecord } from '../model/record.ts';
import { independentTally, type PairCount } from '../odds/count-pairs.ts';
import { exactInterval } from '../odds/exact-bounds.ts';
import { pairsOfRate } from '../odds/rule-trials.ts';
import { countsOf, type RuleCounts, type RuleResult, ruleResults } from '../reasoning/rule-results.ts';
import { remembered } from '../terms/remembered.ts';
import { plural } from '../text/plural.ts';
import { pairWords } from './pair-words.ts';

/** How many outcomes stand to a rule in each way, and what its pairs come to where it is a rate that some have put to the test. */
export interface RuleFigures extends RuleCounts {
  readonly rate: { readonly count: PairCount; readonly exact: readonly [number, number] } | undefined;
}

/** What stands above a rule; undefined above one that is retracted. Without figures where the rule cannot be applied. */
export function ruleLens(
  rule: RuleRecord,
  snapshot: Snapshot,
): { readonly text: string; readonly figures: RuleFigures | undefined } | undefined {
  if (isRetracted(rule)) return undefined;
  const result = findSorted(ruleResults(snapshot), rule.id, (one) => one.rule.record.id);
  if (!result) return { text: 'not applied: something in it cannot be read', figures: undefined };
  const figures = figuresOf(result);
  return { text: textOf(figures, result), figures };
}

/** Kept with the result, as bounds take many steps. */
const figuresOf = remembered((result: RuleResult): RuleFigures => {
  const count = result.rule.atLeast === undefined ? undefined : pairsOfRate(result);
  return {
    ...countsOf(result),
    rate: count && count.pairs > 0 ? { count, exact: exactInterval(independentTally(count), 0.95) } : undefined,
  };
});

function textOf({ support, against, undecided, excepted, rate }: RuleFigures, { neutral }: RuleResult): string {
  const isUntested = support + against + neutral.length === 0;
  const decided = [`${plural(support, 'outcome')} in support`, `${against} against`];
  const parts = [
    ...(isUntested ? ['untested'] : decided),
    ...(isUntested && undecided + excepted === 0 ? ['no outcome in scope'] : []),
    ...(isUntested && undecided === 0 ? [] : [`${undecided} undecided`]),
    ...(excepted === 0 ? [] : [`${excepted} excepted`]),
    ...(rate ? [pairWords(rate.count, ['bears it out', 'bear it out'], rate.exact)] : []),
  ];
  return parts.join(' · ');
}
