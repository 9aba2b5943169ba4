/**
 * Outcomes that cannot all be right if rules are, though none breaks a rule by itself.
 * Laws (test/property/joint-contradictions.property.test.ts):
 * - an outside solver says of every base alike whether its outcomes and rules can hold together
 * - the members of a set cannot hold together, and can once any one of them is left out
 * - sets of one group share no outcome, and without all of these it can hold together
 * - a smallest removal leaves what can hold together, and no smaller or earlier one does
 * - the order of files changes no set
 * - a record that shares nothing with a contradiction changes nothing about it
 */
import type { Snapshot } from '../index/snapshot.ts';
import { minimalCore } from '../solver/minimal-core.ts';
import type { Share } from '../solver/recorded-swap.ts';
import { smallestRemoval } from '../solver/smallest-removal.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import { componentsIn, type PairGroup } from './joint-groups.ts';
import type { OpenPair } from './joint-pairs.ts';
import { JointProblem, outcomeName } from './joint-problem.ts';
import type { Rule } from './rule.ts';

/** A minimal set of things that cannot all be right. Each list by id or name. */
export interface JointSet {
  readonly outcomes: readonly Evidence[];
  readonly rules: readonly Rule[];
  readonly assumptions: readonly Share[];
  /** What its rules demand of its outcomes. */
  readonly pairs: readonly OpenPair[];
}

/** What could not be decided about a group. */
export type JointPhase = 'consistency' | 'minimal set' | 'further sets';

/** Outcomes whose removal leaves what can hold together. */
export interface Removal {
  /** By id. */
  readonly outcomes: readonly Evidence[];
  /** Whether it is proved that no smaller one does. */
  readonly isExact: boolean;
}

/** What came of a group. */
export interface GroupResult {
  readonly group: PairGroup;
  /** No two share an outcome. */
  readonly sets: readonly JointSet[];
  /** Undefined where nothing has to be removed, or it is not known what. */
  readonly removal: Removal | undefined;
  /** Where the effort ran out, with the steps it allowed. */
  readonly undecided: { readonly phase: JointPhase; readonly steps: number } | undefined;
}

/** A group's result follows from its pairs alone, so it is kept for as long as the group is. */
const results = new WeakMap<PairGroup, GroupResult>();

/** What came of every group that is not plainly consistent, by its first pair. Gives undefined where it may be interrupted. */
export function* jointResults(snapshot: Snapshot): Generator<GroupResult | undefined> {
  for (const { groups } of componentsIn(snapshot)) {
    for (const group of groups) {
      if (!results.has(group)) yield undefined;
      const result = resultOf(group);
      if (result.sets.length > 0 || result.undecided) yield result;
    }
  }
}

/** What came of a group. */
export function resultOf(group: PairGroup): GroupResult {
  const known = results.get(group);
  if (known) return known;
  const result = solve(group);
  results.set(group, result);
  return result;
}

function solve(group: PairGroup): GroupResult {
  const problem = new JointProblem(group.pairs);
  const { sets, phase } = disjointSets(problem);
  const undecided = phase && { phase, steps: problem.stepLimit };
  const removal = sets.length === 0 ? undefined : removalFor(problem, sets, phase === undefined);
  return { group, sets, removal, undecided };
}

/** One minimal set after the other, each without the outcomes of those before. */
function disjointSets(problem: JointProblem): { readonly sets: JointSet[]; readonly phase: JointPhase | undefined } {
  const sets: JointSet[] = [];
  let names: readonly string[] = [...problem.members.keys()];
  for (;;) {
    problem.startQuestion('search');
    const status = problem.solver.statusOf(names);
    if (status === 'sat') return { sets, phase: undefined };
    if (status === 'undecided') return { sets, phase: sets.length === 0 ? 'consistency' : 'further sets' };
    problem.startQuestion('blame');
    const core = minimalCore(problem.solver, names);
    if (typeof core === 'string') return { sets, phase: sets.length === 0 ? 'minimal set' : 'further sets' };
    const set = toSet(problem, core);
    if (set.outcomes.length === 0) throw new Error('What is recorded contradicts itself without any outcome');
    sets.push(set);
    const taken = new Set(set.outcomes.map(outcomeName));
    names = names.filter((name) => !taken.has(name));
  }
}

function toSet(problem: JointProblem, core: readonly string[]): JointSet {
  const members = core.flatMap((name) => problem.members.get(name) ?? []);
  const rules = members.flatMap((member) => (member.is === 'rule' ? [member.rule] : []));
  const outcomes = problem.outcomesOf(core);
  return {
    outcomes,
    rules,
    assumptions: members.flatMap((member) => (member.is === 'assumption' ? [member.share] : [])),
    pairs: problem.pairs.filter(({ rule, evidence }) => rules.includes(rule) && outcomes.includes(evidence)),
  };
}

function removalFor(problem: JointProblem, sets: readonly JointSet[], areAll: boolean): Removal | undefined {
  const all = [...problem.members.keys()];
  const items = problem.outcomesOf(all).map(outcomeName);
  const isItem = new Set(items);
  const without = (removed: ReadonlySet<string>): readonly string[] => all.filter((name) => !removed.has(name));
  problem.startQuestion('blame');
  const found = smallestRemoval({
    items,
    known: sets.map(({ outcomes }) => outcomes.map(outcomeName)),
    mayGoOn: () => {
      problem.spend(1);
      return !problem.isExhausted;
    },
    contradictionWithout: (removed) => {
      const answer = problem.solver.solve(without(removed));
      if (answer.status !== 'unsat') return answer.status === 'sat' ? 'consistent' : 'undecided';
      return answer.core.filter((name) => isItem.has(name));
    },
  });
  if (found !== 'undecided') return { outcomes: problem.outcomesOf(found), isExact: true };
  return areAll ? { outcomes: someRemoval(problem, sets, without), isExact: false } : undefined;
}

/** The outcomes of all sets are a removal; as many of them stay as can. */
function someRemoval(
  problem: JointProblem,
  sets: readonly JointSet[],
  without: (removed: ReadonlySet<string>) => readonly string[],
): readonly Evidence[] {
  const outcomes = sets.flatMap((set) => set.outcomes).sort((a, b) => byCodeUnits(a.outcome.id, b.outcome.id));
  const removed = new Set(outcomes.map(outcomeName));
  problem.startQuestion('blame');
  for (const name of [...removed].reverse()) {
    removed.delete(name);
    if (problem.solver.statusOf(without(removed)) !== 'sat') removed.add(name);
  }
  return outcomes.filter((evidence) => removed.has(outcomeName(evidence)));
}
