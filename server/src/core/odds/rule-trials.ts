/**
 * The outcomes that put a rule to the test.
 * Laws (test/property/rule-trials.property.test.ts):
 * - the trials of a rate are the eligible outcomes that the claim speaks of, as the design lists them
 */

import type { RuleResult } from '../reasoning/rule-results.ts';
import { remembered } from '../terms/remembered.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import { countPairs, type Trial } from './count-pairs.ts';
import { trialOf } from './family-trials.ts';

/**
 * The trials of a rate: eligible outcomes in scope that the claim speaks of, a success where it was right. Outcomes that support a
 * claim without having put it to the test (a working swap that meets a need) are none.
 */
export function trialsOfRate({ rule, support, against }: RuleResult): Trial[] {
  const isTest = ({ verdicts }: Evidence): boolean =>
    rule.claim === 'enough' || verdicts[rule.stage].result !== 'works';
  return [...trialsOf(support.filter(isTest), true), ...trialsOf(against, false)];
}

/** The pairs of the trials of a rate. */
export const pairsOfRate = remembered((result: RuleResult) => countPairs(trialsOfRate(result)));

/** The pairs whose outcomes support a claim. */
export const pairsInSupport = remembered(({ support }: RuleResult) => countPairs(trialsOf(support, true)));

/** Outcomes as trials that all came out one way. */
function trialsOf(evidence: readonly Evidence[], succeeded: boolean): Trial[] {
  return evidence.flatMap(({ swap }) => (swap ? trialOf(swap, succeeded) : []));
}
