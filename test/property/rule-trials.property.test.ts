import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluate } from '../../server/src/core/conditions/evaluate.ts';
import { trialsOfRate } from '../../server/src/core/odds/rule-trials.ts';
import { isInScope } from '../../server/src/core/reasoning/rule.ts';
import { ruleResults } from '../../server/src/core/reasoning/rule-results.ts';
import { allEvidence } from '../../server/src/core/verdicts/evidence.ts';
import { arbitraryBase } from '../harness/arbitrary-base.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { snapshotOfBase } from '../harness/snapshot-of.ts';

describe('trials of a rate', () => {
  it('the trials of a rate are the eligible outcomes that the claim speaks of, as the design lists them', () => {
    assertLaw(
      150,
      fc.property(arbitraryBase, (base) => {
        const snapshot = snapshotOfBase({ ...base, rule: base.rule.map((rule) => ({ ...rule, at_least: 0.9 })) });
        for (const result of ruleResults(snapshot)) {
          const { rule } = result;
          const expected = allEvidence(snapshot).flatMap(({ swap, outcome, verdicts }) => {
            const { isEligible, result: verdict } = verdicts[rule.stage];
            if (!swap || isInScope(rule, swap.patient) !== true || rule.exceptions.has(outcome.id)) return [];
            const isSpokenOf = evaluate(rule.when, swap) === (rule.claim !== 'needs');
            if (!isEligible || !isSpokenOf) return [];
            const succeeded = (verdict === 'works') === (rule.claim === 'enough');
            return [`${swap.patient.drive.id} ${swap.donor.drive.id} ${succeeded}`];
          });
          const trials = trialsOfRate(result).map(({ drives, succeeded }) => `${drives.join(' ')} ${succeeded}`);
          expect(trials.sort()).toEqual(expected.sort());
        }
      }),
    );
  });
});
