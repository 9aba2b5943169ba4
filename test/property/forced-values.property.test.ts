import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ComparableKey } from '../../schemas/gen/key-table.ts';
import type { ConditionData } from '../../schemas/gen/records.ts';
import { cellOf } from '../../server/src/core/conditions/cell.ts';
import { swapOf } from '../../server/src/core/conditions/swap.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { type ForcedValue, forcedValues } from '../../server/src/core/reasoning/forced-values.ts';
import { shareName } from '../../server/src/core/reasoning/joint-background.ts';
import { jointResults } from '../../server/src/core/reasoning/joint-contradictions.ts';
import { componentsIn } from '../../server/src/core/reasoning/joint-groups.ts';
import { openPairs } from '../../server/src/core/reasoning/joint-pairs.ts';
import type { PlainBase } from '../harness/arbitrary-base.ts';
import { arbitraryJointBase } from '../harness/arbitrary-joint-base.ts';
import { effort, expectOften } from '../harness/assert-law.ts';
import { allMembers, demandsIn } from '../harness/joint-case.ts';
import { type Claim, canHold, outcomeMember, ruleMember } from '../harness/joint-oracle.ts';
import { openSmt, type Smt } from '../harness/rule-oracle.ts';
import { snapshotOfBase } from '../harness/snapshot-of.ts';

let smt: Smt;
beforeAll(async () => {
  smt = await openSmt();
});
afterAll(() => smt.close());

/** Keys that a condition compares on the two sides. */
function comparedKeys(when: ConditionData): ComparableKey[] {
  const inner = [...(when.all ?? []), ...(when.any ?? []), ...(when.none ?? [])];
  const revision = when.revision === 'same' ? (['rev'] as const) : [];
  return [...(when.same ?? []), ...(when.different ?? []), ...revision, ...inner.flatMap(comparedKeys)];
}

interface Comparison {
  readonly key: ComparableKey;
  readonly outcome: PlainBase['outcome'][number];
  /** The two values, named as in the core. */
  readonly values: readonly string[];
}

/** What undecided outcomes compare, where both values are open; of revisions those of one board. */
function comparisons(base: PlainBase, snapshot: Snapshot): Comparison[] {
  const found = new Map<string, Comparison>();
  for (const { law, undecided } of openPairs(snapshot)) {
    for (const evidence of undecided) {
      const outcome = base.outcome.find(({ id }) => id === evidence.outcome.id)!;
      const swap = swapOf(evidence.outcome, snapshot)!;
      for (const key of comparedKeys(law.rule.record.data.when ?? {})) {
        const cells = [cellOf(swap.patient, key), cellOf(swap.donor, key)];
        if (key === 'rev' || cells.some(({ state }) => state === 'known')) continue;
        const values = [`drive/${outcome.patient} ${key}`, `drive/${outcome.donor} ${key}`].sort();
        found.set(values.join(' = '), { key, outcome, values });
      }
    }
  }
  return [...found.values()];
}

function forcedIn(snapshot: Snapshot): ForcedValue[] {
  return [...forcedValues(snapshot)].flatMap((forced) => forced ?? []);
}

function nameOf(member: ForcedValue['from'][number]): string {
  if (member.is === 'rule') return ruleMember(member.rule.record.id);
  if (member.is === 'outcome') return outcomeMember(member.evidence.outcome.id);
  return `assumption ${shareName(member.share)}`;
}

describe('forced values', () => {
  it('an outside solver finds no way for a forced value to be otherwise, and one for every value that is not forced', () => {
    const seen = { equal: 0, different: 0, is: 0, open: 0 };
    for (const base of fc.sample(arbitraryJointBase, { numRuns: 1000 * effort, seed: 20260314 })) {
      const snapshot = snapshotOfBase(base);
      if ([...jointResults(snapshot)].some((result) => result)) continue;
      const forced = forcedIn(snapshot);
      for (const { relation } of forced) seen[relation]++;
      const known = new Set(forced.flatMap(({ relation, values }) => (relation === 'is' ? values : [])));
      const compared = comparisons(base, snapshot);
      const claims = compared.flatMap(({ key, outcome, values }): Claim[] =>
        [true, false].map((holds) => ({
          name: `${values.join(' = ')} ${holds}`,
          when: { same: [key] },
          outcome,
          holds,
        })),
      );
      const all = allMembers(base, snapshot);
      const relationOf = (values: readonly string[]): ForcedValue | undefined =>
        forced.find((one) => one.relation !== 'is' && one.values.join(' = ') === values.join(' = '));
      const componentOf = (name: string): unknown =>
        componentsIn(snapshot).find(({ pairs }) => pairs.some(({ links }) => links.includes(name)));
      const assumptions = all.filter((name) => name.startsWith('assumption'));
      const because = compared.map(({ values }) => relationOf(values)?.from.map(nameOf) ?? []);
      const answers = canHold(
        smt,
        base,
        demandsIn(base, snapshot),
        [
          ...claims.map(({ name }) => [...all, name]),
          ...claims.map(({ name }) => [...assumptions, name]),
          ...compared.flatMap(({ values }, position) =>
            relationOf(values)
              ? [[...because[position]!, `${values.join(' = ')} ${relationOf(values)!.relation !== 'equal'}`]]
              : [],
          ),
        ],
        claims,
      );
      for (const [position, { values }] of compared.entries()) {
        const [canBeEqual, canDiffer] = answers.slice(2 * position, 2 * position + 2);
        if (canBeEqual && canDiffer) seen.open++;
        const isNews = answers[2 * (claims.length / 2 + position)] && answers[2 * (claims.length / 2 + position) + 1];
        const [one, other] = values.map(componentOf);
        if (!isNews || (one && other && one !== other)) continue;
        if (values.every((name) => known.has(name))) {
          expect([canBeEqual, canDiffer]).not.toEqual([true, true]);
          continue;
        }
        const expected = canBeEqual && canDiffer ? undefined : canBeEqual ? 'equal' : 'different';
        expect(relationOf(values)?.relation, JSON.stringify({ values, base })).toBe(expected);
      }
      // What a value is said to follow from is enough for it.
      for (const answer of answers.slice(4 * compared.length)) expect(answer).toBe(false);
    }
    expectOften(Math.min(...Object.values(seen)), 30);
  });
});
