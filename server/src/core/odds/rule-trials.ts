/**
 * The outcomes that put a rule to the test.
 * Laws (test/property/rule-trials.property.test.ts):
 * - the trials of a rate are the eligible outcomes that the claim speaks of, as the design lists them
 */
import type { RuleResult } from '../reasoning/rule-results.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import type { Trial } from './count-pairs.ts';

/**
 * The trials of a rate: eligible outcomes in scope that the claim speaks of, a success where it was right. Outcomes that support a
 * claim without having put it to the test (a working swap that meets a need) are none.
 */
export function trialsOfRate({ rule, support, against }: RuleResult): Trial[] {
  const isTest = ({ verdicts }: Evidence): boolean =>
    rule.claim === 'enough' || verdicts[rule.stage].result !== 'works';
  return [...trialsOf(support.filter(isTest), true), ...trialsOf(against, false)];
}

/** Outcomes as trials that all came out one way. */
export function trialsOf(evidence: readonly Evidence[], succeeded: boolean): Trial[] {
  return evidence.flatMap(({ swap }) =>
    swap ? [{ drives: [swap.patient.drive.id, swap.donor.drive.id], succeeded }] : [],
  );
}
