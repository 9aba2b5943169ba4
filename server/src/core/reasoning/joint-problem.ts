import { Effort } from '../solver/effort.ts';
import type { OpenClaim, OpenValue, Share } from '../solver/recorded-swap.ts';
import { Solver } from '../solver/solver.ts';
import { all, any, type Constraint, equal, flag, not, slot } from '../solver/terms.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import { jointBackground, shareName } from './joint-background.ts';
import type { OpenPair } from './joint-pairs.ts';
import type { Rule } from './rule.ts';

/** What can be given up to end a contradiction. */
export type Member =
  | { readonly is: 'rule'; readonly rule: Rule }
  | { readonly is: 'outcome'; readonly evidence: Evidence }
  /** That all drives of a revision have the same part. */
  | { readonly is: 'assumption'; readonly share: Share };

/**
 * Steps that a question may take by itself, and for each pair it is about: whether all can hold is one search, while what is to blame takes
 * hundreds of them.
 */
const stepsPerQuestion = 100_000;
const stepsPerPair = { search: 200, blame: 1_500 } as const;

/** Pairs as constraints that hold where their rule and their outcome are taken for right. */
export class JointProblem {
  /** By name, in the order in which they are preferred: rules by id, outcomes by id, assumptions by name. */
  readonly members: ReadonlyMap<string, Member>;
  readonly solver: Solver;
  private readonly effort: Effort;

  /** `others` are values that no pair demands anything of, but which may follow. */
  constructor(
    readonly pairs: readonly OpenPair[],
    others: readonly OpenValue[] = [],
  ) {
    this.effort = new Effort(0);
    this.startQuestion('search');
    this.solver = new Solver(this.effort);
    const open = new Map(others.map((value) => [value.slot.name, value]));
    const claims = new Map<string, OpenClaim>();
    for (const pair of pairs) {
      for (const [name, value] of pair.open) open.set(name, value);
      for (const claim of pair.claims) claims.set(claim.flag.name, claim);
    }
    const shared = sharedSlots(open.values());
    this.members = membersOf(pairs, shared);
    for (const name of this.members.keys()) this.solver.suppose(name, flag(name));
    const ofOthers = others.flatMap(({ side }) => side?.board ?? []);
    const boards = new Map([...pairs.flatMap((pair) => pair.boards), ...ofOthers].map((board) => [board.id, board]));
    for (const known of jointBackground(open.values(), claims.values(), [...boards.values()]))
      this.solver.require(known);
    for (const [name, { holds }] of shared) this.solver.require(any(not(flag(assumptionName(name))), holds));
    for (const { rule, evidence, demand } of pairs) {
      this.solver.require(any(not(flag(ruleName(rule))), not(flag(outcomeName(evidence))), demand));
    }
  }

  /** Begins a question: a single search, or who is to blame. */
  startQuestion(kind: keyof typeof stepsPerPair): void {
    this.effort.restart(stepsPerQuestion + stepsPerPair[kind] * this.pairs.length);
  }

  /** Steps that a question may take. */
  get stepLimit(): number {
    return this.effort.limit;
  }

  /** Whether the question has taken too many steps. */
  get isExhausted(): boolean {
    return this.effort.isSpent;
  }

  /** Counts steps taken elsewhere. */
  spend(steps: number): void {
    this.effort.spend(steps);
  }

  /** The outcomes among these members, by id. */
  outcomesOf(names: Iterable<string>): Evidence[] {
    return [...names].flatMap((name) => {
      const member = this.members.get(name);
      return member?.is === 'outcome' ? [member.evidence] : [];
    });
  }
}

/** The name of an outcome as a member. */
export function outcomeName({ outcome }: Evidence): string {
  return `outcome ${outcome.id}`;
}

/** The name of a rule as a member. */
export function ruleName({ record }: Rule): string {
  return `rule ${record.id}`;
}

function assumptionName(share: string): string {
  return `assumption ${share}`;
}

interface Shared {
  readonly share: Share;
  readonly holds: Constraint;
}

/** What it takes for drives of one revision to have the same part, by the name of the share; nothing where there is only one such drive. */
function sharedSlots(open: Iterable<OpenValue>): Map<string, Shared> {
  const byName = new Map<string, { readonly share: Share; readonly values: OpenValue[] }>();
  for (const value of open) {
    if (!value.share) continue;
    const name = shareName(value.share);
    const known = byName.get(name);
    if (known) known.values.push(value);
    else byName.set(name, { share: value.share, values: [value] });
  }
  const shared = new Map<string, Shared>();
  for (const [name, { share, values }] of [...byName].sort(([a], [b]) => byCodeUnits(a, b))) {
    const [first] = values;
    if (!first || values.length === 1) continue;
    const common = slot(name, first.slot.sort);
    shared.set(name, { share, holds: all(...values.map((value) => equal(value.slot, common))) });
  }
  return shared;
}

function membersOf(pairs: readonly OpenPair[], shared: ReadonlyMap<string, Shared>): Map<string, Member> {
  const rules = new Map(pairs.map(({ rule }) => [rule.record.id, rule]));
  const outcomes = new Map(pairs.map(({ evidence }) => [evidence.outcome.id, evidence]));
  return new Map<string, Member>([
    ...sorted(rules).map((rule) => [ruleName(rule), { is: 'rule', rule }] as const),
    ...sorted(outcomes).map((evidence) => [outcomeName(evidence), { is: 'outcome', evidence }] as const),
    ...[...shared].map(([name, { share }]) => [assumptionName(name), { is: 'assumption', share }] as const),
  ]);
}

function sorted<Item>(byId: ReadonlyMap<string, Item>): Item[] {
  return [...byId].sort(([a], [b]) => byCodeUnits(a, b)).map(([, item]) => item);
}
