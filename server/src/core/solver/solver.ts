/**
 * Whether demands on unknown values can hold together, decided exactly.
 * Laws (test/property/solver.property.test.ts):
 * - an answer is right, as trying every value shows
 * - a model meets every constraint
 * - a core cannot hold together, and a minimal one can once any of it is left out
 * - the order in which constraints are given changes no answer
 */
import { type Literal, negate } from './clause-solver.ts';
import { CompiledConstraints } from './compile.ts';
import type { Effort } from './effort.ts';
import { type Constraint, hasValue, type Slot, type Value } from './terms.ts';

/** Values under which constraints hold. */
export interface Model {
  /** The value of each slot the constraints speak of, by the slot's name. */
  readonly values: ReadonlyMap<string, Value>;
  /** Whether each flag is set, by name. */
  readonly flags: ReadonlyMap<string, boolean>;
}

/** What came of a question. */
export type Answer =
  | { readonly status: 'sat'; readonly model: Model }
  /** The named assumptions that cannot hold together with what is required; not always a minimal set. */
  | { readonly status: 'unsat'; readonly core: readonly string[] }
  /** The effort did not suffice. */
  | { readonly status: 'undecided' };

/** Constraints that always hold, and named ones that are assumed question by question. */
export class Solver {
  private readonly required: Constraint[] = [];
  private readonly assumptions = new Map<string, Constraint>();
  private compiled: { readonly constraints: CompiledConstraints; readonly literals: Map<string, Literal> } | undefined;

  /** The effort is shared by all questions; several solvers may share one. */
  constructor(private readonly effort: Effort) {}

  /** Demands something in every question. */
  require(constraint: Constraint): void {
    this.required.push(constraint);
    this.compiled = undefined;
  }

  /** Gives a name to something that may be assumed. */
  suppose(name: string, constraint: Constraint): void {
    if (this.assumptions.has(name)) throw new Error(`Something is supposed under the name ${name} already`);
    this.assumptions.set(name, constraint);
    this.compiled = undefined;
  }

  /** Whether what is required can hold together with these assumptions, by default with all of them. */
  solve(names: readonly string[] = [...this.assumptions.keys()]): Answer {
    const { constraints } = this.compile();
    const byLiteral = new Map(names.map((name) => [this.literalOf(name), name]));
    const verdict = constraints.clauses.solve([...byLiteral.keys()]);
    if (verdict.status === 'sat') return { status: 'sat', model: constraints.model() };
    if (verdict.status === 'undecided') return verdict;
    const core = new Set(verdict.core.map((literal) => byLiteral.get(literal)));
    return { status: 'unsat', core: names.filter((name) => core.has(name)) };
  }

  /** Which of these assumptions cannot hold together; `consistent` where all can. It costs less than a model. */
  coreOf(names: readonly string[]): readonly string[] | 'consistent' | 'undecided' {
    const byLiteral = new Map(names.map((name) => [this.literalOf(name), name]));
    const verdict = this.compile().constraints.clauses.solve([...byLiteral.keys()]);
    if (verdict.status === 'undecided') return verdict.status;
    return verdict.status === 'sat' ? 'consistent' : verdict.core.flatMap((literal) => byLiteral.get(literal) ?? []);
  }

  /** The same where only the status is asked for, which costs less. */
  statusOf(names: readonly string[]): Answer['status'] {
    return this.compile().constraints.clauses.solve(names.map((name) => this.literalOf(name))).status;
  }

  /**
   * The first model under these assumptions: the first slot has the first value it can have, then the second has, and so on.
   * Values come in the order of their sort: constants that constraints name before other texts, numbers rising, days from the
   * usual first one on.
   */
  first(names: readonly string[], slots: readonly Slot[]): Answer {
    const answer = this.solve(names);
    if (answer.status !== 'sat') return answer;
    const { constraints } = this.compile();
    const fixed = names.map((name) => this.literalOf(name));
    const accepts = (...more: readonly Literal[]): boolean =>
      constraints.clauses.solve([...fixed, ...more]).status === 'sat';
    for (const slot of slots) {
      if (slot.sort.holds === 'days') {
        const upTo = (day: number): Literal =>
          constraints.literalOf({ op: 'at-most-after', a: slot, b: undefined, days: day });
        const day = nearestDay(slot, (from, to) =>
          accepts(negate(upTo(from - 1)), upTo(to)) ? Number(constraints.model().values.get(slot.name)) : undefined,
        );
        fixed.push(upTo(day), negate(upTo(day - 1)));
      } else {
        const choice = constraints.choicesOf(slot).find((literal) => accepts(literal));
        if (choice !== undefined) fixed.push(choice);
      }
    }
    const verdict = constraints.clauses.solve(fixed);
    return verdict.status === 'sat' ? { status: 'sat', model: constraints.model() } : { status: 'undecided' };
  }

  private literalOf(name: string): Literal {
    const literal = this.compile().literals.get(name);
    if (literal === undefined) throw new Error(`Nothing is supposed under the name ${name}`);
    return literal;
  }

  private compile(): NonNullable<typeof this.compiled> {
    if (this.compiled) return this.compiled;
    const constraints = new CompiledConstraints([...this.required, ...this.assumptions.values()], this.effort);
    for (const constraint of this.required) constraints.require(constraint);
    const literals = new Map<string, Literal>();
    // A literal of its own for each name: two assumptions may say the same.
    for (const [name, constraint] of this.assumptions) literals.set(name, constraints.guard(constraint));
    this.compiled = { constraints, literals };
    return this.compiled;
  }
}

/**
 * The first day from the usual one on that a slot can have, else the last before it. `find` gives one between two days, or
 * undefined.
 */
function nearestDay({ sort }: Slot, find: (from: number, to: number) => number | undefined): number {
  const { from = Number.MIN_SAFE_INTEGER, to = Number.MAX_SAFE_INTEGER, usualFrom: usual = from } = sort;
  let high = find(usual, to);
  if (high === undefined) return lastDay(find(from, usual) ?? usual, usual, find);
  let low = usual;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    const found = find(low, middle);
    if (found === undefined) low = middle + 1;
    else high = found;
  }
  return low;
}

function lastDay(start: number, end: number, find: (from: number, to: number) => number | undefined): number {
  let [low, high] = [start, end];
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    const found = find(middle, high);
    if (found === undefined) high = middle - 1;
    else low = found;
  }
  return low;
}

/** Whether a constraint holds under a model that gives all its slots a value. */
export function holds(constraint: Constraint, model: Model): boolean {
  const heldBy = ({ name }: Slot): Value => {
    const value = model.values.get(name);
    if (value === undefined) throw new Error(`The model has no value for ${name}`);
    return value;
  };
  switch (constraint.op) {
    case 'all':
      return constraint.parts.every((part) => holds(part, model));
    case 'any':
      return constraint.parts.some((part) => holds(part, model));
    case 'not':
      return !holds(constraint.part, model);
    case 'equal':
      return heldBy(constraint.a) === heldBy(constraint.b);
    case 'in':
      return hasValue(constraint.set, heldBy(constraint.slot));
    case 'at-most-after': {
      const start = constraint.b ? Number(heldBy(constraint.b)) : 0;
      return Number(heldBy(constraint.a)) - start <= constraint.days;
    }
    case 'flag':
      return model.flags.get(constraint.name) === true;
    case 'at-most':
      return constraint.parts.filter((part) => holds(part, model)).length <= constraint.most;
  }
}
