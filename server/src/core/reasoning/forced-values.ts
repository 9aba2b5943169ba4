/**
 * What laws and outcomes together say of values that nobody recorded.
 * Laws (test/property/forced-values.property.test.ts):
 * - an outside solver finds no way for a forced value to be otherwise, and one for every value that is not forced
 */
import { comparableKeys } from '../../../../schemas/gen/key-table.ts';
import { cellOf } from '../conditions/cell.ts';
import type { Atom, Formula } from '../conditions/formula.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { atomConstraint } from '../solver/condition-constraint.ts';
import { minimalCore } from '../solver/minimal-core.ts';
import { type OpenValue, RecordedSwap } from '../solver/recorded-swap.ts';
import { namesIn, simplify } from '../solver/simplify.ts';
import { holds, type Model } from '../solver/solver.ts';
import { toValue } from '../solver/sorts.ts';
import { all, any, type Constraint, isIn, not, type Slot, type Value } from '../solver/terms.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import { type GroupResult, resultOf } from './joint-contradictions.ts';
import { componentsIn } from './joint-groups.ts';
import { linksOf, type OpenPair, openPairs } from './joint-pairs.ts';
import { JointProblem, type Member, outcomeName, ruleName } from './joint-problem.ts';
import { mentionsOf } from './mentions.ts';

/** A value that follows. */
export interface ForcedValue {
  /** The values concerned, as the solver names them: `drive/d-0117 preamp`. Two for a relation, one for a value. */
  readonly values: readonly string[];
  readonly relation: 'equal' | 'different' | 'is';
  /** What the value is, as it is typed somewhere; undefined for a relation. */
  readonly value: Value | undefined;
  /** A minimal set of what it follows from. */
  readonly from: readonly Member[];
}

/** Two open values that an outcome compares, or one that it compares with something known. */
interface Compared {
  /** Names of their slots, in order. */
  readonly values: readonly string[];
  /** That they are equal; undefined of one. */
  readonly areEqual: Constraint | undefined;
  readonly open: readonly OpenValue[];
  readonly links: readonly string[];
}

/**
 * What follows in groups without contradiction about values that some outcome compares. Gives undefined where it may be interrupted. What
 * takes too many steps is left out.
 */
export function* forcedValues(snapshot: Snapshot): Generator<ForcedValue | undefined> {
  const compared = comparedByLink(snapshot);
  for (const { pairs, groups } of componentsIn(snapshot)) {
    yield undefined;
    if (groups.every((group) => isConsistent(resultOf(group)))) yield* forcedBy(pairs, compared);
  }
}

function isConsistent({ sets, undecided }: GroupResult): boolean {
  return sets.length === 0 && !undecided;
}

/** What is compared, by name, for each unknown it has to do with. */
type ComparedByLink = ReadonlyMap<string, ReadonlyMap<string, Compared>>;

/** Also by outcomes that decide nothing: what follows for those is news. */
function comparedByLink(snapshot: Snapshot): ComparedByLink {
  const byLink = new Map<string, Map<string, Compared>>();
  for (const { law, undecided } of openPairs(snapshot)) {
    for (const compared of undecided.flatMap((evidence) => comparedBy(law.rule.when, evidence))) {
      const name = compared.values.join(' = ');
      for (const link of compared.links) {
        const known = byLink.get(link);
        if (known) known.set(name, compared);
        else byLink.set(link, new Map([[name, compared]]));
      }
    }
  }
  return byLink;
}

function comparedBy(when: Formula, { swap }: Evidence): Compared[] {
  if (!swap) return [];
  return atomsOf(when).flatMap((atom): Compared[] => {
    const terms = new RecordedSwap(swap);
    const is = simplify(atomConstraint(atom, terms));
    const names = namesIn(is);
    const open = [...terms.open.values()].filter(({ slot }) => names.has(slot.name));
    const singles = open.map((value) => compare([value], undefined));
    return atom.test === 'same' && open.length === 2 ? [compare(open, is), ...singles] : singles;
  });
}

function compare(open: readonly OpenValue[], areEqual: Constraint | undefined): Compared {
  const values = open.map(({ slot }) => slot.name).sort();
  return { values, areEqual, open, links: linksOf(values, open) };
}

function atomsOf(formula: Formula): Atom[] {
  if (formula.op === 'atom') return [formula.atom];
  return formula.op === 'not' ? atomsOf(formula.part) : formula.parts.flatMap(atomsOf);
}

/** Something that could be so in all cases, as it is in one. */
interface Candidate {
  readonly name: string;
  readonly forced: Omit<ForcedValue, 'from'>;
  readonly claim: Constraint;
}

function* forcedBy(pairs: readonly OpenPair[], byLink: ComparedByLink): Generator<ForcedValue | undefined> {
  const links = new Set(pairs.flatMap((pair) => pair.links));
  const compared = [...new Map([...links].flatMap((link) => [...(byLink.get(link) ?? [])]))]
    .sort(([a], [b]) => byCodeUnits(a, b))
    .map(([, one]) => one);
  if (compared.length === 0) return;
  const others = new Map(compared.flatMap(({ open }) => open.map((value) => [value.slot.name, value] as const)));
  const slots = new Map([...others].map(([name, { slot }]) => [name, slot]));
  const problem = new JointProblem(pairs, [...others.values()]);
  const members = [...problem.members.keys()];
  for (const { values, areEqual } of compared) {
    problem.solver.suppose(`is ${values.join(' = ')}`, areEqual ?? anyValue(values, slots));
  }
  const first = problem.solver.solve(members);
  if (first.status !== 'sat') return;
  const candidates = compared.flatMap((one) => toCandidate(one, slots, first.model) ?? []);
  for (const { name, claim } of candidates) problem.solver.suppose(name, not(claim));
  const found: ForcedValue[] = [];
  for (const candidate of heldInAll(candidates, problem, members)) {
    if (!candidate) yield undefined;
    const from = candidate ? reasons(candidate, problem, others) : [];
    // That boards of one revision are alike is no news.
    if (candidate && from.some(({ is }) => is === 'rule')) found.push({ ...candidate.forced, from });
  }
  const spelling = spellingIn(pairs);
  for (const forced of withoutRepetition(found)) {
    yield { ...forced, value: spelling.get(forced.value) ?? forced.value };
  }
}

/** Says nothing but that there is such a value, so that a model has one. */
function anyValue([name = '']: readonly string[], slots: ReadonlyMap<string, Slot>): Constraint {
  const slot = slots.get(name);
  return slot ? any(isIn(slot, {}), not(isIn(slot, {}))) : all();
}

function toCandidate(
  { values, areEqual }: Compared,
  slots: ReadonlyMap<string, Slot>,
  model: Model,
): Candidate | undefined {
  const name = `not ${values.join(' = ')}`;
  if (areEqual) {
    const isEqual = holds(areEqual, model);
    const forced = { values, relation: isEqual ? ('equal' as const) : ('different' as const), value: undefined };
    return { name, forced, claim: isEqual ? areEqual : not(areEqual) };
  }
  const [only = ''] = values;
  const slot = slots.get(only);
  const value = model.values.get(only);
  // Of a day only spans are known.
  if (!slot || value === undefined || slot.sort.holds === 'days') return undefined;
  return { name, forced: { values, relation: 'is', value }, claim: isIn(slot, { anyOf: [value] }) };
}

/** The candidates that are so in every model, found by asking for one where they are not; each such model settles others too. */
function* heldInAll(
  candidates: readonly Candidate[],
  problem: JointProblem,
  members: readonly string[],
): Generator<Candidate | undefined> {
  const open = new Set(candidates);
  for (const candidate of candidates) {
    if (!open.has(candidate)) continue;
    yield undefined;
    problem.startQuestion('search');
    const answer = problem.solver.solve([candidate.name, ...members]);
    if (answer.status === 'unsat') yield candidate;
    if (answer.status !== 'sat') continue;
    for (const other of [...open]) if (!holds(other.claim, answer.model)) open.delete(other);
  }
}

/** A minimal set of what a value follows from. There may be thousands of values, so it is sought in the first refusal only. */
function reasons(
  { name, claim, forced }: Candidate,
  problem: JointProblem,
  others: ReadonlyMap<string, OpenValue>,
): Member[] {
  problem.startQuestion('search');
  const refused = problem.solver.coreOf([name, ...problem.members.keys()]);
  if (typeof refused === 'string') return [];
  const isRefused = new Set(refused);
  const pairs = problem.pairs.filter(
    ({ rule, evidence }) => isRefused.has(ruleName(rule)) && isRefused.has(outcomeName(evidence)),
  );
  const own = forced.values.flatMap((value) => others.get(value) ?? []);
  const small = new JointProblem(pairs, own);
  small.solver.suppose(name, not(claim));
  small.startQuestion('blame');
  const core = minimalCore(small.solver, [name, ...small.members.keys()]);
  return typeof core === 'string' ? [] : core.flatMap((member) => small.members.get(member) ?? []);
}

/** How texts that a drive records or a rule names are typed, by what the solver takes them for. */
function spellingIn(pairs: readonly OpenPair[]): ReadonlyMap<Value | undefined, Value> {
  const spelling = new Map<Value | undefined, Value>();
  const rules = [...new Set(pairs.map(({ rule }) => rule))];
  for (const [folded, typed] of mentionsOf(rules).spelling) spelling.set(folded, typed);
  const swaps = pairs.flatMap(({ evidence }) => evidence.swap ?? []);
  for (const side of swaps.flatMap(({ patient, donor }) => [patient, donor])) {
    for (const key of comparableKeys) {
      const cell = cellOf(side, key);
      if (cell.state === 'known' && !spelling.has(toValue(cell.value))) spelling.set(toValue(cell.value), cell.value);
    }
  }
  return spelling;
}

/** Of values that are known to be something it need not be said that they are equal. */
function withoutRepetition(found: readonly ForcedValue[]): ForcedValue[] {
  const known = new Set(found.flatMap(({ relation, values }) => (relation === 'is' ? values : [])));
  return found.filter(({ relation, values }) => relation === 'is' || !values.every((name) => known.has(name)));
}
