import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluate } from '../../server/src/core/conditions/evaluate.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { isInScope, type Rule } from '../../server/src/core/reasoning/rule.ts';
import { type Relation, ruleResults, standing } from '../../server/src/core/reasoning/rule-results.ts';
import type { Claim } from '../../server/src/core/terms/claims.ts';
import { allEvidence, type Evidence } from '../../server/src/core/verdicts/evidence.ts';
import { arbitraryBase } from '../harness/arbitrary-base.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { fileOfRecord, snapshotOfBase } from '../harness/snapshot-of.ts';

const listed = ['support', 'against', 'undecided', 'excepted'] as const;

/** The table of the design: a claim's relations where the outcome works and the condition holds or not, then where it does not work. */
const table: Readonly<Record<Claim, readonly Relation[]>> = {
  needs: ['support', 'against', 'neutral', 'support'],
  enough: ['support', 'neutral', 'against', 'neutral'],
  prevents: ['against', 'support', 'support', 'neutral'],
};

/** The lists in which each outcome stands under each rule, by `rule outcome`. */
function listsOf(snapshot: Snapshot): Map<string, string[]> {
  const found = new Map<string, string[]>();
  for (const result of ruleResults(snapshot)) {
    for (const name of listed) {
      for (const { outcome } of result[name]) {
        const key = `${result.rule.record.id} ${outcome.id}`;
        found.set(key, [...(found.get(key) ?? []), name]);
      }
    }
  }
  return found;
}

/** How an outcome stands to a rule by the design's words; undefined where it is out of scope. */
function relationByDesign(rule: Rule, { swap, verdicts, outcome }: Evidence): Relation | undefined {
  const scope = swap && isInScope(rule, swap.patient);
  if (scope === false) return undefined;
  if (rule.exceptions.has(outcome.id)) return 'excepted';
  const { result, isEligible } = verdicts[rule.stage];
  const condition = swap && evaluate(rule.when, swap);
  const isCounted = rule.atLeast === undefined || isEligible;
  if (scope === undefined || condition === undefined || result === 'inconclusive' || !isCounted) return 'undecided';
  return table[rule.claim][(result === 'works' ? 0 : 2) + (condition ? 0 : 1)];
}

describe('rule results', () => {
  it('every outcome in scope stands in exactly one relation to a rule', () => {
    assertLaw(
      150,
      fc.property(arbitraryBase, (base) => {
        const snapshot = snapshotOfBase(base);
        const lists = listsOf(snapshot);
        for (const result of ruleResults(snapshot)) {
          for (const evidence of allEvidence(snapshot)) {
            const relation = relationByDesign(result.rule, evidence);
            expect(standing(result.rule, evidence)).toBe(relation);
            const expected = relation === undefined || relation === 'neutral' ? [] : [relation];
            expect(lists.get(`${result.rule.record.id} ${evidence.outcome.id}`) ?? []).toEqual(expected);
          }
          for (const name of listed) {
            const ids = result[name].map(({ outcome }) => outcome.id);
            expect(ids).toEqual([...ids].sort());
          }
        }
      }),
    );
  });

  it('an outcome is against a rule only if both its verdict and the condition are decided', () => {
    assertLaw(
      150,
      fc.property(arbitraryBase, (base) => {
        for (const { rule, against } of ruleResults(snapshotOfBase(base))) {
          for (const { swap, verdicts } of against) {
            expect(verdicts[rule.stage].result).not.toBe('inconclusive');
            expect(swap && evaluate(rule.when, swap)).toBeTypeOf('boolean');
            expect(swap && isInScope(rule, swap.patient)).toBe(true);
          }
        }
      }),
    );
  });

  it('an exception takes an outcome out of the counts and changes no other', () => {
    assertLaw(
      60,
      fc.property(arbitraryBase, (base) => {
        const snapshot = snapshotOfBase(base);
        const before = listsOf(snapshot);
        const inScope = new Set(
          ruleResults(snapshot).flatMap(({ rule }) =>
            allEvidence(snapshot)
              .filter((evidence) => standing(rule, evidence) !== undefined)
              .map(({ outcome }) => `${rule.record.id} ${outcome.id}`),
          ),
        );
        for (const rule of base.rule) {
          for (const { id } of base.outcome) {
            const exceptions = [...(rule.exceptions ?? []), { outcome: id, because: 'Power was lost.' }];
            const file = fileOfRecord({ ...rule, exceptions });
            const expected = new Map(before);
            if (inScope.has(`${rule.id} ${id}`)) expected.set(`${rule.id} ${id}`, ['excepted']);
            expect(listsOf(snapshot.with([{ path: file.path, file }]))).toEqual(expected);
          }
        }
      }),
    );
  });
});
