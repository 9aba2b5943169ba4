import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { jointResults } from '../../server/src/core/reasoning/joint-contradictions.ts';
import { componentsIn, type PairGroup } from '../../server/src/core/reasoning/joint-groups.ts';
import { excessExceptions } from '../../server/src/core/reasoning/needed-exceptions.ts';
import { arbitraryJointBase } from '../harness/arbitrary-joint-base.ts';
import { arbitraryRecordWalk, editedPaths } from '../harness/arbitrary-walk.ts';
import { assertLaw, effort, expectOften } from '../harness/assert-law.ts';
import { fileOf, snapshotOf, snapshotOfBase } from '../harness/snapshot-of.ts';

function groupsIn(snapshot: Snapshot): PairGroup[] {
  return componentsIn(snapshot).flatMap(({ groups }) => groups);
}

function tellGroup({ pairs }: PairGroup): string {
  return pairs.map(({ rule, evidence }) => `${rule.record.id} ${evidence.outcome.id}`).join(', ');
}

/** All there is to joint reasoning, as text. */
function tell(snapshot: Snapshot): unknown {
  const results = [...jointResults(snapshot)].flatMap((result) => result ?? []);
  return {
    groups: groupsIn(snapshot).map(tellGroup),
    sets: results.map(({ sets, removal }) => ({
      sets: sets.map(({ rules, outcomes, assumptions }) => ({
        rules: rules.map(({ record }) => record.id),
        outcomes: outcomes.map(({ outcome }) => outcome.id),
        assumptions,
      })),
      removal: removal?.outcomes.map(({ outcome }) => outcome.id),
    })),
    excess: [...excessExceptions(snapshot)].map(
      ({ rule, outcome, because }) => `${rule.record.id} ${outcome} ${because}`,
    ),
  };
}

describe('joint groups', () => {
  it('no two groups share an unknown', () => {
    let count = 0;
    assertLaw(
      200,
      fc.property(arbitraryJointBase, (base) => {
        const users = new Map<string, PairGroup>();
        for (const group of groupsIn(snapshotOfBase(base))) {
          count++;
          for (const link of group.pairs.flatMap(({ links }) => links)) {
            expect(users.get(link) ?? group).toBe(group);
            users.set(link, group);
          }
        }
      }),
    );
    expectOften(count, 200);
  });

  it('after every edit the groups and what came of them are those of a fresh snapshot, and an untouched group stays the same object', () => {
    const seen = { edits: 0, kept: 0, made: 0, contradictory: 0 };
    // 50 walks of 40 edits.
    assertLaw(
      50,
      fc.property(arbitraryRecordWalk({ minLength: 40, maxLength: 40 }, arbitraryJointBase), (walk) => {
        let snapshot = snapshotOf(walk[0]);
        tell(snapshot);
        for (const [step, texts] of walk.slice(1).entries()) {
          const before = groupsIn(snapshot);
          const changes = editedPaths(walk[step]!, texts).map((path) => {
            const text = texts[path];
            return { path, file: text === undefined ? undefined : fileOf(path, text) };
          });
          snapshot = snapshot.with(changes);
          const told = tell(snapshot);
          expect(told, `after edit ${step + 1}`).toEqual(tell(snapshotOf(texts)));
          seen.edits++;
          if ((told as { sets: unknown[] }).sets.length > 0) seen.contradictory++;
          for (const group of groupsIn(snapshot)) {
            const old = before.find(
              ({ pairs }) =>
                pairs.length === group.pairs.length && pairs.every((pair, position) => pair === group.pairs[position]),
            );
            if (old) expect(group).toBe(old);
            seen[old ? 'kept' : 'made']++;
          }
        }
      }),
    );
    expect(seen.edits).toBeGreaterThanOrEqual(2000 * effort);
    expectOften(Math.min(seen.kept, seen.made, seen.contradictory), 300);
  });
});
