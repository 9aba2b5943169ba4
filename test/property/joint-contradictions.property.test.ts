import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { shareName } from '../../server/src/core/reasoning/joint-background.ts';
import {
  type GroupResult,
  type JointSet,
  jointResults,
  resultOf,
} from '../../server/src/core/reasoning/joint-contradictions.ts';
import { componentsIn } from '../../server/src/core/reasoning/joint-groups.ts';
import type { Evidence } from '../../server/src/core/verdicts/evidence.ts';
import { type PlainBase, recordsOf } from '../harness/arbitrary-base.ts';
import { arbitraryJointBase } from '../harness/arbitrary-joint-base.ts';
import { effort, expectOften } from '../harness/assert-law.ts';
import { allMembers, demandsIn } from '../harness/joint-case.ts';
import { canHold, type Demand, outcomeMember, ruleMember } from '../harness/joint-oracle.ts';
import { openSmt, type Smt } from '../harness/rule-oracle.ts';
import { configFileOf, fileOfRecord, snapshotOfBase } from '../harness/snapshot-of.ts';

let smt: Smt;
beforeAll(async () => {
  smt = await openSmt();
});
afterAll(() => {
  smt.close();
  // The process goes on to other files.
  cases.clear();
});

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

/** Subsets of a size, in order. */
function* subsets<Item>(items: readonly Item[], size: number): Generator<readonly Item[]> {
  if (size === 0) yield [];
  for (let first = 0; first + size <= items.length && size > 0; first++) {
    for (const rest of subsets(items.slice(first + 1), size - 1)) yield [items[first]!, ...rest];
  }
}

/** A base with what was found in it, and a way to ask the oracle about lists of members. */
interface Case {
  readonly base: PlainBase;
  readonly snapshot: Snapshot;
  readonly found: readonly GroupResult[];
  readonly all: readonly string[];
  readonly demands: readonly Demand[];
  readonly canHold: (...asked: readonly (readonly string[])[]) => boolean[];
}

/** Bases made once for all laws. */
const cases = new Map<number, readonly Case[]>();

function casesOf(count: number): readonly Case[] {
  const runs = Math.ceil(count * effort);
  const known = cases.get(runs);
  if (known) return known;
  const made = fc.sample(arbitraryJointBase, { numRuns: runs, seed: 20260314 }).map((base): Case => {
    const snapshot = snapshotOfBase(base);
    const demands = demandsIn(base, snapshot);
    return {
      ...{ base, snapshot, demands, found: results(snapshot), all: allMembers(base, snapshot) },
      canHold: (...asked) => canHold(smt, base, demands, asked),
    };
  });
  cases.set(runs, made);
  return made;
}

function outcomesOf(evidence: readonly Evidence[]): string[] {
  return evidence.map(({ outcome }) => outcomeMember(outcome.id));
}

/** The outcomes of a group, by id. */
function outcomesIn({ group }: GroupResult): string[] {
  return [...new Set(group.pairs.map(({ evidence }) => outcomeMember(evidence.outcome.id)))].sort();
}

function without(names: readonly string[], removed: readonly string[]): string[] {
  return names.filter((name) => !removed.includes(name));
}

const bases = 3000;

describe('outcomes and rules together', () => {
  it('an outside solver says of every base alike whether its outcomes and rules can hold together', () => {
    let contradictory = 0;
    for (const { base, found, all, canHold } of casesOf(bases)) {
      expect(found.filter(({ undecided }) => undecided)).toEqual([]);
      expect([found.length === 0], JSON.stringify(base)).toEqual(canHold(all));
      if (found.length > 0) contradictory++;
    }
    expectOften(contradictory, bases / 10);
  });

  it('the members of a set cannot hold together, and can once any one of them is left out', () => {
    const seen = { sets: 0, single: 0, long: 0, assuming: 0 };
    for (const { base, found, canHold } of casesOf(bases)) {
      for (const set of found.flatMap(({ sets }) => sets)) {
        const members = membersOf(set);
        seen.sets++;
        if (set.outcomes.length === 1) seen.single++;
        if (set.outcomes.length > 2) seen.long++;
        if (set.assumptions.length > 0) seen.assuming++;
        const answers = canHold(members, ...members.map((member) => without(members, [member])));
        expect(answers, JSON.stringify({ members, base })).toEqual([false, ...members.map(() => true)]);
      }
    }
    expectOften(seen.sets, 800);
    expectOften(Math.min(seen.single, seen.long, seen.assuming), 50);
  });

  it('sets of one group share no outcome, and without all of these it can hold together', () => {
    let several = 0;
    for (const { base, found, all, canHold } of casesOf(bases)) {
      if (found.length === 0) continue;
      if (found.some(({ sets }) => sets.length > 1)) several++;
      for (const { sets } of found) {
        const outcomes = sets.flatMap((set) => outcomesOf(set.outcomes));
        expect(new Set(outcomes).size).toBe(outcomes.length);
      }
      const taken = found.flatMap(({ sets }) => sets.flatMap((set) => outcomesOf(set.outcomes)));
      expect(canHold(without(all, taken)), JSON.stringify(base)).toEqual([true]);
    }
    expectOften(several, 100);
  });

  it('a smallest removal leaves what can hold together, and no smaller or earlier one does', () => {
    const seen = { one: 0, more: 0 };
    for (const { base, found, all, demands } of casesOf(bases)) {
      for (const result of found) {
        const removal = outcomesOf(result.removal!.outcomes);
        expect(result.removal!.isExact).toBe(true);
        seen[removal.length === 1 ? 'one' : 'more']++;
        // The demands of the group alone: what one outcome has to do with others is another group's.
        const isOwn = ({ rule, outcome }: Demand): boolean =>
          result.group.pairs.some((pair) => pair.rule.record.id === rule.id && pair.evidence.outcome.id === outcome.id);
        const canGroupHold = (...asked: string[][]): boolean[] => canHold(smt, base, demands.filter(isOwn), asked);
        const sameSize = [...subsets(outcomesIn(result), removal.length)];
        const earlier = sameSize.slice(
          0,
          sameSize.findIndex((one) => `${one}` === `${removal}`),
        );
        const smaller = [...subsets(outcomesIn(result), removal.length - 1)];
        const tried = [...smaller, ...earlier].map((outcomes) => without(all, outcomes));
        expect(canGroupHold(without(all, removal), ...tried), JSON.stringify(base)).toEqual([
          true,
          ...tried.map(() => false),
        ]);
      }
    }
    expectOften(Math.min(seen.one, seen.more), 100);
  });

  it('the order of files changes no set', () => {
    let sets = 0;
    for (const { base, found } of casesOf(bases).slice(0, 600)) {
      const turned = Snapshot.of(
        configFileOf(JSON.stringify(base.config)),
        recordsOf(base).reverse().map(fileOfRecord),
      );
      expect(results(turned).map(tell)).toEqual(found.map(tell));
      sets += found.length;
    }
    expectOften(sets, 100);
  });

  it('a record that shares nothing with a contradiction changes nothing about it', () => {
    let sets = 0;
    for (const { base, found } of casesOf(bases).slice(0, 600)) {
      if (found.length === 0) continue;
      sets += found.length;
      const drives = ['d-0', 'd-9'].map((id) => ({ kind: 'drive' as const, id, family: 'gull-9' }));
      const family = { kind: 'family' as const, id: 'gull-9', maker: 'wren', name: 'Gull 9' };
      const outcome = { ...base.outcome[0]!, id: 'o-0', patient: 'd-0', donor: 'd-9' };
      const more: PlainBase = {
        ...base,
        drive: [...drives, ...base.drive],
        family: [family, ...base.family],
        outcome: [outcome, ...base.outcome],
      };
      const isOld = ({ group }: GroupResult): boolean =>
        group.pairs.every(({ evidence }) => evidence.outcome.id !== outcome.id);
      expect(results(snapshotOfBase(more)).filter(isOld).map(tell).sort(byText)).toEqual(found.map(tell).sort(byText));
    }
    expectOften(sets, 100);
  });

  it('pairs left out as loose change no answer', () => {
    const seen = { loose: 0, kept: 0 };
    for (const { found, snapshot } of casesOf(bases).slice(0, 1500)) {
      const whole = componentsIn(snapshot).map(({ pairs }) => resultOf({ pairs }));
      for (const { pairs, groups } of componentsIn(snapshot)) {
        const kept = groups.flatMap((group) => group.pairs).length;
        seen.loose += pairs.length - kept;
        seen.kept += kept;
      }
      const setsOf = (some: readonly GroupResult[]): string[] =>
        some.flatMap(({ sets }) => sets.map((set) => `${membersOf(set)}`)).sort();
      expect(setsOf(found)).toEqual(setsOf(whole));
      const removedIn = (some: readonly GroupResult[]): string[] =>
        some.flatMap(({ removal }) => outcomesOf(removal?.outcomes ?? [])).sort();
      expect(removedIn(found)).toEqual(removedIn(whole));
    }
    expectOften(Math.min(seen.loose, seen.kept), 500);
  });
});

function byText(a: unknown, b: unknown): number {
  return JSON.stringify(a) < JSON.stringify(b) ? -1 : 1;
}

/** A result without its objects. */
function tell({ sets, removal }: GroupResult): unknown {
  return { sets: sets.map(membersOf), removal: outcomesOf(removal?.outcomes ?? []) };
}
