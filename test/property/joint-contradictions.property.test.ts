import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { type GroupResult, jointResults, type JointSet, resultOf } from '../../server/src/core/reasoning/joint-contradictions.ts';
import { shareName } from '../../server/src/core/reasoning/joint-background.ts';
import { componentsIn } from '../../server/src/core/reasoning/joint-groups.ts';
import { lawsOf } from '../../server/src/core/reasoning/joint-laws.ts';
import { standing } from '../../server/src/core/reasoning/rule-results.ts';
import { allEvidence } from '../../server/src/core/verdicts/evidence.ts';
import type { PlainBase } from '../harness/arbitrary-base.ts';
import { arbitraryJointBase } from '../harness/arbitrary-joint-base.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { canHold, type Demand, isKnownInScope, outcomeMember, ruleMember } from '../harness/joint-oracle.ts';
import { openSmt, type Smt } from '../harness/rule-oracle.ts';
import { snapshotOfBase } from '../harness/snapshot-of.ts';

let smt: Smt;
beforeAll(async () => {
  smt = await openSmt();
});
afterAll(() => smt.close());

/** What rules demand of decided outcomes whose condition is not known, straight from the data. */
function demandsIn(base: PlainBase, snapshot: Snapshot): Demand[] {
  return lawsOf(snapshot).flatMap(({ rule }) => {
    const plain = base.rule.find(({ id }) => id === rule.record.id)!;
    return allEvidence(snapshot).flatMap((evidence) => {
      const outcome = base.outcome.find(({ id }) => id === evidence.outcome.id)!;
      const { result } = evidence.verdicts[rule.stage];
      if (standing(rule, evidence) !== 'undecided' || result === 'inconclusive') return [];
      if (!isKnownInScope(plain, outcome, base)) return [];
      const works = result === 'works';
      if (works === (rule.claim === 'enough')) return [];
      return [{ rule: plain, outcome, holds: rule.claim === 'needs' }];
    });
  });
}

function results(snapshot: Snapshot): GroupResult[] {
  return [...jointResults(snapshot)].flatMap((result) => result ?? []);
}

function membersOf({ rules, outcomes, assumptions }: JointSet): string[] {
  return [
    ...rules.map(({ record }) => ruleMember(record.id)),
    ...outcomes.map(({ outcome }) => outcomeMember(outcome.id)),
    ...assumptions.map((share) => `assumption ${shareName(share)}`),
  ];
}

/** All that can be given up. */
function allMembers(base: PlainBase, snapshot: Snapshot): string[] {
  const names = new Set<string>();
  for (const { pairs } of componentsIn(snapshot)) {
    for (const { rule, evidence, open } of pairs) {
      names.add(ruleMember(rule.record.id)).add(outcomeMember(evidence.outcome.id));
      for (const { share } of open.values()) if (share) names.add(`assumption ${shareName(share)}`);
    }
  }
  for (const { rule, outcome } of demandsIn(base, snapshot)) names.add(ruleMember(rule.id)).add(outcomeMember(outcome.id));
  return [...names];
}

const seen = { bases: 0, sets: 0, assumptions: 0, several: 0, removals: 0, big: 0, single: 0, none: 0 };

/** Subsets of some items with a size, in order. */
function* subsets<Item>(items: readonly Item[], size: number): Generator<readonly Item[]> {
  if (size === 0) yield [];
  for (let first = 0; first + size <= items.length && size > 0; first++) {
    for (const rest of subsets(items.slice(first + 1), size - 1)) yield [items[first]!, ...rest];
  }
}

describe('outcomes and rules together', () => {
  it('an outside solver says of every base alike whether its outcomes and rules can hold together', () => {
    const bases = fc.sample(arbitraryJointBase, { numRuns: Number(process.env['JOINT_RUNS'] ?? 400), seed: 20260314 });
    for (const base of bases) {
      const snapshot = snapshotOfBase(base);
      const found = results(snapshot);
      const demands = demandsIn(base, snapshot);
      if (demands.length === 0) {
        expect(found).toEqual([]);
        seen.none++;
        continue;
      }
      const [holds] = canHold(smt, base, demands, [allMembers(base, snapshot)]);
      expect(found.length === 0, JSON.stringify(base)).toBe(holds);
      expect(found.filter(({ undecided }) => undecided)).toEqual([]);
      seen.bases++;
      for (const { sets, removal } of found) {
        seen.sets += sets.length;
        if (sets.length > 1) seen.several++;
        if ((removal?.outcomes.length ?? 0) > 1) seen.removals++;
        for (const set of sets) {
          if (set.assumptions.length > 0) seen.assumptions++;
          if (membersOf(set).length > 3) seen.big++;
          if (set.outcomes.length === 1) seen.single++;
        }
      }
    }
    console.log(seen);
  }, 600_000);
});
